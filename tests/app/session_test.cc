// Opening, saving, undoing over files; what happens when somebody else writes to the plan.

#include "viewer/app/session.h"
#include "viewer/app/advised_edits.h"

#include "engine/plan/write_plan.h"
#include "tests/app/scratch_folder.h"
#include "tests/app/test_plans.h"
#include "viewer/app/filler_notes.h"
#include "viewer/app/settings.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <thread>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::visibility;
using namespace petalproof::check;
using namespace petalproof::fill;
using namespace petalproof::app;
namespace fs = std::filesystem;

namespace {

SessionOptions quiet(const ScratchFolder& folder) {
  SessionOptions options;
  options.live = false;
  options.state_folder = folder.path() / "state";
  options.assets = fs::path(PETALPROOF_SOURCE_DIR) / "assets";
  return options;
}

Action move(double by) { return Edit{MoveBlooms{{{0, 0, 0}}, {{by}, {0}}}}; }

fs::path smallPlanIn(const ScratchFolder& folder) {
  const fs::path path = folder.path() / "small.toml";
  write(path, writePlan(smallPlan()->plan));
  return path;
}

Plan planIn(const fs::path& path) {
  auto loaded = loadPlan(path);
  REQUIRE(loaded);
  return loaded.value->plan;
}

}  // namespace

TEST_CASE("a plan is opened, changed, saved, and read again as it was on screen") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  Session session(quiet(folder));
  session.perform(OpenPlan{path});
  REQUIRE(session.state().hasPlan());
  CHECK(!session.state().changed());
  CHECK(session.state().live.scene->blooms.size() == 6);
  session.perform(move(1.5));
  CHECK(session.state().changed());
  CHECK(session.state().live.scene->blooms[0].at_mm.x == doctest::Approx(9.5 * 25.4));
  session.perform(Save{});
  CHECK(!session.state().changed());
  CHECK((planIn(path) == session.state().plan()));
  CHECK(session.state().notice == "saved as small.toml");
  session.perform(Undo{});
  CHECK(session.state().changed());
  CHECK((session.state().plan() == smallPlan()->plan));
  CHECK(session.state().recent == std::vector<fs::path>{path});
}

TEST_CASE("another plan begins at the wall drawing; one that is read again is looked at as before") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  Session session(quiet(folder));
  session.perform(OpenPlan{path});
  const std::uint64_t opened = session.state().opened_revision;
  ViewChoices view = session.state().view;
  view.main = MainView::throughLens;
  view.thirds = true;
  session.perform(SetView{view});
  session.perform(move(1));
  session.perform(Undo{});
  CHECK(session.state().opened_revision == opened);
  session.perform(ReadAgain{});
  CHECK(session.state().opened_revision != opened);
  CHECK(session.state().view.main == MainView::throughLens);
  session.perform(ClosePlan{});
  session.perform(OpenDemo{});
  CHECK(session.state().view.main == MainView::wallDrawing);
  CHECK(session.state().view.thirds);
}

TEST_CASE("the first save that drops comments keeps the old file beside it and says so") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  const std::string commented = "# the wall of June\n" + textIn(path);
  write(path, commented);
  write(folder.path() / "small.before.toml", "not ours");
  Session session(quiet(folder));
  session.perform(OpenPlan{path});
  session.perform(move(1));
  session.perform(Save{});
  CHECK(textIn(folder.path() / "small.before 2.toml") == commented);
  CHECK(textIn(folder.path() / "small.before.toml") == "not ours");
  CHECK(session.state().notice ==
        "saved as small.toml; the file before it, with its comments, is now small.before 2.toml");
  session.perform(move(1));
  session.perform(Save{});
  CHECK(session.state().notice == "saved as small.toml");
  CHECK(!fs::exists(folder.path() / "small.before 3.toml"));
}

TEST_CASE("a plan that another program changed isn't written over unasked") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  Session session(quiet(folder));
  session.perform(OpenPlan{path});
  session.perform(move(1));
  Plan other = smallPlan()->plan;
  other.title = "Somebody else's";
  write(path, writePlan(other));
  session.perform(LookAtDisk{});
  CHECK(session.state().changed_on_disk);
  session.perform(Save{});
  CHECK(planIn(path).title == "Somebody else's");
  CHECK(session.state().changed());
  SUBCASE("mine is taken") {
    session.perform(SaveAs{path, true});
    CHECK(planIn(path).title == "Small");
    CHECK(!session.state().changed_on_disk);
  }
  SUBCASE("theirs is taken") {
    session.perform(ReadAgain{});
    CHECK(session.state().plan().title == "Somebody else's");
    CHECK(!session.state().changed());
  }
}

TEST_CASE("another program's change is noticed by itself, the session's own saving isn't taken for one") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  std::atomic<int> woken = 0;
  SessionOptions options = quiet(folder);
  options.wake = [&] { ++woken; };
  Session session(std::move(options));
  session.perform(OpenPlan{path});
  const auto comes = [&](const auto& condition) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(20);
    while (!condition() && std::chrono::steady_clock::now() < end) {
      session.poll();
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    return condition();
  };
  session.perform(move(1));
  session.perform(Save{});
  CHECK(comes([&] { return woken > 0; }));
  session.poll();
  CHECK(!session.state().changed_on_disk);
  write(folder.path() / "beside.toml", "nobody's");
  Plan other = smallPlan()->plan;
  other.title = "Somebody else's";
  write(path, writePlan(other));
  CHECK(comes([&] { return session.state().changed_on_disk; }));
  session.perform(ReadAgain{});
  CHECK(session.state().plan().title == "Somebody else's");
  CHECK(!session.state().changed_on_disk);
  // Safely, by another file put in its place; and after it was saved under another name.
  const fs::path elsewhere = folder.path() / "elsewhere.toml";
  session.perform(SaveAs{elsewhere});
  write(folder.path() / "new", writePlan(smallPlan()->plan));
  fs::rename(folder.path() / "new", elsewhere);
  CHECK(comes([&] { return session.state().changed_on_disk; }));
}

TEST_CASE("a plan that can't be read can be read again once it was put right") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  const std::string good = writePlan(planIn(path));
  write(path, "nonsense");
  Session session(quiet(folder));
  session.perform(OpenPlan{path});
  CHECK(!session.state().hasPlan());
  CHECK(!session.state().problems.empty());
  REQUIRE(session.state().unread.filename() == path.filename());
  write(path, good);
  session.perform(OpenPlan{session.state().unread});
  CHECK(session.state().hasPlan());
  CHECK(session.state().problems.empty());
  CHECK(session.state().unread.empty());
}

TEST_CASE("a plan saved in another folder still finds its meshes, and nothing is written over") {
  const ScratchFolder folder;
  Session session(quiet(folder));
  session.perform(OpenDemo{});
  REQUIRE(session.state().hasPlan());
  CHECK(session.state().path.empty());
  CHECK(session.state().changed());
  session.perform(Save{});
  CHECK(session.state().notice == "say where to save it");
  const fs::path path = folder.path() / "mine.toml";
  write(path, "somebody's");
  session.perform(SaveAs{path, false});
  CHECK(textIn(path) == "somebody's");
  fs::remove(path);
  session.perform(SaveAs{path, false});
  auto again = loadPlan(path);
  REQUIRE(again);
  CHECK(buildScene(*again.value));
  CHECK(!session.state().changed());
}

TEST_CASE("a plan that can't be read shows its problems with their lines; the one before stays") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  const fs::path bad = folder.path() / "bad.toml";
  std::string wrong = textIn(path);
  wrong.replace(wrong.find("\"in\""), 4, "\"yard\"");
  write(bad, wrong);
  Session session(quiet(folder));
  session.perform(OpenPlan{path});
  session.perform(OpenPlan{bad});
  REQUIRE(!session.state().problems.empty());
  CHECK(session.state().problems.front().place.line == 3);
  CHECK(session.state().plan().title == "Small");
  session.perform(Dismiss{});
  CHECK(session.state().problems.empty());
}

TEST_CASE("a kind whose mesh file isn't there is refused, and the plan stays") {
  const ScratchFolder folder;
  Session session(quiet(folder));
  session.perform(OpenPlan{smallPlanIn(folder)});
  Bloom bloom = session.state().plan().blooms[0];
  bloom.form = MeshFile{"nowhere.obj"};
  session.perform(Edit{SetKind{0, bloom}});
  CHECK((session.state().plan() == smallPlan()->plan));
  CHECK(session.state().notice.find("nowhere.obj") != std::string::npos);
  CHECK(session.state().history.done.empty());
}

TEST_CASE("comments are found outside of texts only") {
  const ScratchFolder folder;
  const fs::path path = smallPlanIn(folder);
  std::string text = textIn(path);
  text.replace(text.find("#b4532f"), 7, "#123456");  // colours have the sign within quotes
  write(path, text);
  Session session(quiet(folder));
  session.perform(OpenPlan{path});
  session.perform(move(1));
  session.perform(Save{});
  CHECK(!fs::exists(folder.path() / "small.before.toml"));
}

TEST_CASE("settings come back, what can't be read of them is left out") {
  Settings settings;
  settings.dark = true;
  settings.scale = 1.5;
  for (int k = 0; k < 14; ++k)
    settings = withRecent(std::move(settings), "/walls/" + std::to_string(k % 12) + ".toml");
  CHECK(settings.recent.size() == 10);
  CHECK(settings.recent.front() == "/walls/1.toml");
  CHECK((settingsFrom(settingsText(settings)) == settings));
  const Settings odd = settingsFrom("scale 99\nnonsense\nrecent\ndark maybe\nrecent /a b.toml");
  CHECK(odd.scale == 0);
  CHECK(!odd.dark);
  CHECK(odd.recent == std::vector<fs::path>{"/a b.toml"});
}

TEST_CASE("fillers are placed beside the hand, as one step") {
  const ScratchFolder folder;
  Session session(quiet(folder));
  const fs::path path = smallPlanIn(folder);
  Plan plan = smallPlan()->plan;
  plan.fillers.clear();
  plan.shots[0].megapixels = 0.1;
  plan.wall.columns = plan.wall.rows = 1;
  plan.wall.grid = Grid<Cell>(1, 1, {"sun", false});
  plan.wall.panel = {{12}, {12}};
  plan.blooms[0].diameter = {6};
  write(path, writePlan(plan));
  session.perform(OpenPlan{path});
  session.perform(PlaceFillers{Hide::shows, false});
  CHECK(session.state().filling);
  session.perform(move(1));
  CHECK(session.state().notice == "fillers are being placed; stop that first");
  while (session.state().filling) {
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
    session.poll();
  }
  REQUIRE(session.state().filled);
  const std::size_t placed = session.state().plan().fillers.size();
  CHECK(placed > 0);
  CHECK(session.state().filled->placed.size() == placed);
  REQUIRE(session.state().history.done.size() == 1);
  CHECK(session.state().history.done[0].name == "place " + std::to_string(placed) + " fillers");
  const auto toCut = [&] {
    int count = 0;
    for (const FillerTotal& total : fillersToCut(session.state())) count += total.count;
    return count;
  };
  CHECK(toCut() == static_cast<int>(placed));
  for (const Filler& filler : session.state().plan().fillers) {
    const FillerNote* const note = noteOf(session.state(), filler);
    REQUIRE(note);
    CHECK(!note->hides.empty());
  }
  CHECK(glows(session.state(), 0));
  CHECK(glows(session.state(), static_cast<int>(placed) - 1));
  CHECK(!glows(session.state(), static_cast<int>(placed)));
  // To look at one is no change; to move it is, and then it is the hand's.
  session.perform(Select{{{{-1, -1, 0}}, {}}});
  CHECK(glows(session.state(), 0));
  session.perform(Edit{MoveBlooms{{{-1, -1, 0}}, {{0.5}, {0}}}});
  CHECK(!glows(session.state(), 0));
  CHECK(!noteOf(session.state(), session.state().plan().fillers[0]));
  CHECK(toCut() == static_cast<int>(placed));
  session.perform(Edit{DeleteBlooms{{{-1, -1, 0}}}});
  CHECK(toCut() == static_cast<int>(placed) - 1);
  session.perform(Undo{});
  session.perform(Undo{});
  CHECK(noteOf(session.state(), session.state().plan().fillers[0]));
  session.perform(Undo{});
  CHECK(session.state().plan().fillers.empty());
  CHECK(!session.state().filled);
}

TEST_CASE("a picture without the wall is told from one without a gap, once it is checked in full") {
  auto check = std::make_shared<ShotCheck>();
  ShotResult result{1, true, check, nullptr, {}};
  check->shares.off = 1;
  CHECK(seesNoWall(result));
  result.full = false;
  CHECK(!seesNoWall(result));
  result.full = true;
  check->shares.bloom = 1e-6;
  CHECK(!seesNoWall(result));
  result.check.reset();
  CHECK(!seesNoWall(result));
}

TEST_CASE("with a bloom move its copies in other cells of the layout, and nothing else") {
  State state = opened({}, smallPlan(), {});  // "sun" hangs in A1 and B2, "moon" in B1
  CHECK(!movesWithChosen(state, {0, 0, 0}));
  state.selection.blooms = {{0, 0, 1}};
  CHECK(movesWithChosen(state, {0, 0, 1}));
  CHECK(movesWithChosen(state, {1, 1, 1}));
  CHECK(!movesWithChosen(state, {1, 1, 0}));
  CHECK(!movesWithChosen(state, {1, 0, 1}));
  CHECK(!movesWithChosen(state, {-1, -1, 1}));
  CHECK(!movesWithChosen(state, {7, 7, 1}));
  state.selection.blooms = {{-1, -1, 0}};
  CHECK(movesWithChosen(state, {-1, -1, 0}));
  CHECK(!movesWithChosen(state, {-1, -1, 1}));
}

TEST_CASE("gaps that are left are found by their ids, as long as the plan is the one they are of") {
  CHECK(countsByShot({"couple.1", "a.b.7", "couple.12", "phone.3"}) == "2 in couple, 1 in a.b, 1 in phone");
  CHECK(countsByShot({}).empty());
  State state = opened({}, smallPlan(), {});
  const std::string name = state.plan().shots[0].name;
  auto check = std::make_shared<ShotCheck>();
  check->found.gaps.resize(2);
  check->found.gaps[0].number = 1;
  check->found.gaps[1].number = 2;
  check->found.gaps[0].hole = 1;  // two gaps of one hole
  check->found.gaps[1].hole = 1;
  check->found.holes.resize(1);
  state.live.shots = {{state.now.revision, true, check, nullptr, {}}};
  CHECK(gapOfId(state, name + ".2") == GapRef{0, 1});
  CHECK(!gapOfId(state, name + ".3"));
  CHECK(!gapOfId(state, "elsewhere.1"));
  CHECK(!gapOfId(state, name));
  // A preview has other numbers, and so has another plan.
  state.live.shots[0].full = false;
  CHECK(!gapOfId(state, name + ".2"));
  state.live.shots[0].full = true;
  state = app::apply(std::move(state), move(1));
  CHECK(!gapOfId(state, name + ".2"));
}

TEST_CASE("a search that is stopped leaves the plan") {
  const ScratchFolder folder;
  Session session(quiet(folder));
  const fs::path path = smallPlanIn(folder);
  Plan plan = smallPlan()->plan;
  plan.shots[0].megapixels = 0.1;
  write(path, writePlan(plan));
  session.perform(OpenPlan{path});
  session.perform(PlaceFillers{Hide::all, false});
  session.perform(StopPlacing{});
  while (session.state().filling) {
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
    session.poll();
  }
  CHECK(session.state().notice == "stopped; nothing was placed");
  CHECK((session.state().plan() == plan));
}

TEST_CASE("what would help a shot can be tried, and taken back") {
  const ScratchFolder folder;
  Session session(quiet(folder));
  const fs::path path = folder.path() / "one panel.toml";
  // White board between red blooms; brown board shows less.
  write(path, R"(format = 1
title = "One panel"
units = "in"
[wall]
columns = 1
rows = 1
panel = [20, 20]
grid = [["sun"]]
[[bloom]]
name = "ember"
shape = "dahlia"
diameter = 12
colour = "#b4532f"
[[layout]]
name = "sun"
blooms = [ { bloom = "ember", at = [5, 5] }, { bloom = "ember", at = [15, 5] },
           { bloom = "ember", at = [5, 15] }, { bloom = "ember", at = [15, 15] } ]
[[shot]]
name = "couple"
sensor = "full frame"
megapixels = 0.2
lens = 85
camera = [0, 10, 50]
aim = [0, 10]
)");
  const Plan plan = planFrom(textIn(path))->plan;
  session.perform(OpenPlan{path});
  CHECK(advisedEdits(session.state()).empty());
  session.perform(FindAdvice{});
  REQUIRE(session.state().advising);
  while (session.state().advising) {
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
    session.poll();
  }
  REQUIRE(session.state().advice);
  const auto advised = advisedEdits(session.state());
  const auto first = std::find_if(advised.begin(), advised.end(),
                                  [](const AdvisedEdit& one) { return one.edit.has_value(); });
  REQUIRE(first != advised.end());
  CHECK(first->words.ends_with(" then."));
  session.perform(Edit{*first->edit});
  CHECK(session.state().history.done.size() == 1);
  CHECK(!(session.state().plan() == plan));
  REQUIRE(advisedEdits(session.state()).size() == 1);
  CHECK(advisedEdits(session.state())[0].words == "What was found is of the wall as it was then.");
  session.perform(Undo{});
  CHECK((session.state().plan() == plan));
  CHECK(advisedEdits(session.state()).size() == advised.size());
}
