#include "viewer/app/first_wall.h"
#include "viewer/app/first_wall_maker.h"

#include "engine/plan/default_shots.h"
#include "engine/plan/write_plan.h"
#include "tests/app/scratch_folder.h"
#include "viewer/app/folder_listing.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <thread>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::tables;
using namespace petalproof::app;

namespace {

int bloomsOnWall(const Plan& plan) {
  int count = 0;
  for (const Cell& cell : plan.wall.grid.cells())
    if (const Layout* layout = findLayout(plan, cell.layout))
      count += static_cast<int>(layout->blooms.size());
  return count;
}

}  // namespace

TEST_CASE("four answers make a wall of that size, in the palette's colours, that can be saved") {
  Answers answers;
  answers.frame = false;
  answers.palette = 2;
  const auto made = firstWall(answers);
  REQUIRE(made);
  const Plan& plan = made.value->plan->plan;
  CHECK(plan.wall.columns == 4);
  CHECK(plan.wall.rows == 5);
  CHECK(plan.wall.mounting == Mounting::solidWall);
  CHECK(plan.wall.room.depth == Length{144});
  // 21 blooms on each of 20 panels, which leave hardly anything bare.
  CHECK(bloomsOnWall(plan) == 420);
  CHECK(made.value->bare_share < 0.03);
  for (const Bloom& bloom : plan.blooms)
    for (const Colour colour : bloom.colours) {
      const Palette& palette = palettes()[2];
      CHECK((colour == palette.green ||
             std::find(palette.blooms.begin(), palette.blooms.end(), colour) != palette.blooms.end()));
    }
  CHECK(findBloom(plan, "bud")->filler);
  CHECK(findBloom(plan, "leaf")->filler);
  CHECK(findBloom(plan, "leaf")->colours == std::vector<Colour>{palettes()[2].green});
  // As high as people are: it stands on the floor.
  CHECK(plan.wall.above_floor == Length{0});
  CHECK(made.value->hangs.empty());
  const auto again = readPlan(writePlan(plan), "again", {});
  REQUIRE(again);
  CHECK((again.value->plan == plan));
}

TEST_CASE("a wall lower than people hangs behind their heads, and says so") {
  Answers answers;
  answers.wall = {{24}, {20}};
  const auto one = firstWall(answers);
  REQUIRE(one);
  // 2,030 mm less 20 in, in whole inches.
  CHECK(one.value->plan->plan.wall.above_floor == Length{59});
  CHECK(one.value->hangs == "hangs 59 in above the floor, behind people's heads");
  // Eyes, at 0.935 of the height, are before the wall, and so is the top of the head.
  const std::vector<Shot> shots = defaultShots(one.value->plan->plan);
  for (const Person& person : shots.front().people) {
    CHECK(0.935 * person.height.value > 59);
    CHECK(person.height.value < 59 + 20);
  }
  TablesInput tables;
  tables.grid = TableFile{"grid", "sun,sun\n"};
  tables.blooms = TableFile{"blooms", "name,size,count\nrose,6 cm,40\n"};
  tables.panel = "60x40";
  const auto from_tables = firstWall(tables);
  REQUIRE(from_tables);
  CHECK(from_tables.value->plan->plan.wall.above_floor == Length{163});
  const auto& guesses = from_tables.value->guesses;
  CHECK(std::count(guesses.begin(), guesses.end(), from_tables.value->hangs) == 1);
}

TEST_CASE("where the free floor ends, cameras stand nearer with a shorter lens, and people stay as large") {
  Answers answers;
  answers.wall = {{48}, {40}};
  answers.free_floor = {400};
  const auto wide = firstWall(answers);
  REQUIRE(wide);
  CHECK(wide.value->plan->plan.shots.empty());
  answers.free_floor = {96};
  const auto narrow = firstWall(answers, Pace::careful, &*wide.value);
  REQUIRE(narrow);
  const Plan& plan = narrow.value->plan->plan;
  const std::vector<Shot> usual = defaultShots(wide.value->plan->plan);
  REQUIRE(plan.shots.size() == usual.size());
  int moved = 0;
  for (std::size_t k = 0; k < usual.size(); ++k) {
    CHECK(plan.shots[k].camera_out.value <= 96);
    if (plan.shots[k] == usual[k]) continue;
    ++moved;
    const double stand = usual[k].people.empty() ? 0 : usual[k].people.front().out_from_board.value;
    const auto size = [&](const Shot& shot) { return shot.lens.mm / (shot.camera_out.value - stand); };
    CAPTURE(usual[k].name);
    // Lenses come in whole millimetres, none longer than it may be.
    CHECK(size(plan.shots[k]) <= size(usual[k]) * (1 + 1e-9));
    CHECK(size(plan.shots[k]) >= size(usual[k]) * (1 - 1 / plan.shots[k].lens.mm));
  }
  CHECK(moved >= 2);
}

TEST_CASE("other colours for the same blooms are the wall that would have been made with them") {
  Answers answers;
  answers.wall = {{48}, {40}};
  const auto first = firstWall(answers);
  REQUIRE(first);
  Answers other = answers;
  other.palette = 3;
  other.frame = false;
  other.free_floor = {100};
  const auto anew = firstWall(other, Pace::careful, &*first.value);
  const auto fresh = firstWall(other);
  REQUIRE(anew);
  REQUIRE(fresh);
  CHECK((anew.value->plan->plan == fresh.value->plan->plan));
  CHECK(!(anew.value->plan->plan == first.value->plan->plan));
  REQUIRE(anew.value->scene);
  CHECK(anew.value->scene->blooms.size() == static_cast<std::size_t>(bloomsOnWall(anew.value->plan->plan)));
  // Nothing was arranged for it: it takes the places that it is given, and none for other blooms.
  FirstWall moved = *first.value;
  moved.arrangement.layouts.front().blooms.front().at = {{7}, {7}};
  const auto placeIn = [](const Result<FirstWall>& made) {
    return made.value->plan->plan.layouts.front().blooms.front().at;
  };
  CHECK((placeIn(firstWall(other, Pace::careful, &moved)) == TapePoint{{7}, {7}}));
  moved.asked.care = 0.5;
  CHECK(placeIn(firstWall(other, Pace::careful, &moved)) == placeIn(fresh));
  CHECK((placeIn(firstWall(other, Pace::hasty, &moved)) == TapePoint{{7}, {7}}));
  other.small = 5;
  CHECK((placeIn(firstWall(other, Pace::hasty, &moved)) == placeIn(firstWall(other, Pace::hasty))));
}

TEST_CASE("a hasty wall is of the same size and blooms, in a fraction of the time") {
  const auto processorTime = [](Pace pace, Result<FirstWall>& made) {
    const std::clock_t start = std::clock();
    made = firstWall(Answers{}, pace);
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
  };
  Result<FirstWall> hasty;
  Result<FirstWall> careful;
  const double hasty_s = processorTime(Pace::hasty, hasty);
  const double careful_s = processorTime(Pace::careful, careful);
  REQUIRE(hasty);
  REQUIRE(careful);
  CHECK(hasty.value->comes_to == careful.value->comes_to);
  CHECK(bloomsOnWall(hasty.value->plan->plan) == bloomsOnWall(careful.value->plan->plan));
  CHECK(hasty_s < careful_s / 3);
}

namespace {

FirstWallMaker::Make named(std::string name) {
  return [name = std::move(name)](const FirstWall* before) {
    FirstWall wall;
    wall.comes_to = before ? before->comes_to + ", " + name : name;
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    return Result<FirstWall>::success(std::move(wall));
  };
}

std::optional<Result<FirstWall>> waitFor(FirstWallMaker& maker) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(20);
  for (;;) {
    auto made = maker.take();
    if (made || std::chrono::steady_clock::now() > end) return made;
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
}

}  // namespace

TEST_CASE("of several walls asked for, only the last is handed out; of none that isn't wanted any more") {
  FirstWallMaker maker;
  for (const char* name : {"one", "two", "three"}) maker.ask({named(name)});
  CHECK(maker.isBusy());
  const auto made = waitFor(maker);
  REQUIRE(made);
  CHECK(made->value->comes_to == "three");
  CHECK(!maker.isBusy());
  CHECK(!maker.take());
  maker.ask({named("four")});
  maker.forget();
  CHECK(!maker.isBusy());
  std::this_thread::sleep_for(std::chrono::milliseconds(200));
  CHECK(!maker.take());
  maker.ask({named("five")});
  const auto last = waitFor(maker);
  REQUIRE(last);
  CHECK(last->value->comes_to == "five");
}

TEST_CASE("each step of a wall is handed out and given to the next; after one that fails there is none") {
  FirstWallMaker maker;
  maker.ask({named("hasty"), named("careful")});
  const auto first = waitFor(maker);
  REQUIRE(first);
  CHECK(first->value->comes_to == "hasty");
  CHECK(maker.isBusy());
  const auto second = waitFor(maker);
  REQUIRE(second);
  CHECK(second->value->comes_to == "hasty, careful");
  CHECK(!maker.isBusy());
  // Asked for something else while the second step is under way: that step is nobody's.
  maker.ask({named("old"), named("never")});
  REQUIRE(waitFor(maker));
  maker.ask({named("new")});
  CHECK(waitFor(maker)->value->comes_to == "new");
  maker.ask({[](const FirstWall*) {
               return Result<FirstWall>::failure({Problem{{}, "can't be"}});
             },
             named("never")});
  const auto failed = waitFor(maker);
  REQUIRE(failed);
  CHECK(!*failed);
  CHECK(!maker.isBusy());
}

TEST_CASE("answers that can't be are refused with a reason") {
  Answers answers;
  answers.panel = {{0}, {20}};
  CHECK(!firstWall(answers));
  answers = {};
  answers.large = answers.medium = answers.small = answers.green = 0;
  CHECK(!firstWall(answers));
}

TEST_CASE("tables from a clipboard become a wall, with the guesses told") {
  TablesInput input;
  input.grid = TableFile{"grid", "sun\tmoon\nmoon\tsun upside down\n"};
  input.blooms =
      TableFile{"blooms", "Name\tSize\tQty\tColour\nEmber dahlia\t12 in\t8\trust\nBud\t4 in\t24\tgold\n"};
  const auto made = firstWall(input);
  REQUIRE(made);
  const Plan& plan = made.value->plan->plan;
  CHECK(plan.wall.columns == 2);
  CHECK(bloomsOnWall(plan) == 32);
  CHECK(findBloom(plan, "Bud")->filler);
  CHECK(!findBloom(plan, "Ember dahlia")->filler);
  const auto& guesses = made.value->guesses;
  REQUIRE(guesses.size() >= 2);
  CHECK(guesses[guesses.size() - 2] == "\"Bud\": may be a filler (the smallest)");
  CHECK(guesses.back() == "hangs 47 in above the floor, behind people's heads");
  CHECK(!made.value->guesses.empty());
  CHECK(!made.value->comes_to.empty());
}

TEST_CASE("a place in a table is said as people say it, and a guess by its bloom's name") {
  CHECK(inWords({{"the list", 3, 0}, "no size"}) == "the list, row 3: no size");
  CHECK(inWords({{"the list", 3, 0, "C"}, "no size"}) == "the list, cell C3: no size");
  CHECK(inWords({{"the list"}, "is empty"}) == "the list: is empty");
  CHECK(inWords({{}, "is empty"}) == "is empty");
  TablesInput input;
  input.grid = TableFile{"grid", "sun\n"};
  input.blooms = TableFile{"blooms", "Name\tSize\tQty\nEmber dahlia\t12\t8\n"};
  const auto made = firstWall(input);
  REQUIRE(made);
  bool named = false;
  for (const std::string& line : made.value->guesses) {
    CHECK(line.find("blooms:") == std::string::npos);
    named = named || line.starts_with("\"Ember dahlia\": ");
  }
  CHECK(named);
}

TEST_CASE("no message of a first wall names an option of the command line") {
  const auto plain = [](const std::vector<std::string>& lines) {
    for (const std::string& line : lines) {
      CAPTURE(line);
      CHECK(line.find("--") == std::string::npos);
    }
    return !lines.empty();
  };
  const auto wordsOf = [](const Result<FirstWall>& made) {
    std::vector<std::string> words;
    for (const Problem& problem : made.problems) words.push_back(toString(problem));
    return words;
  };
  const TableFile grid{"cells", "sun\tmoon\nmoon\tsun\n"};
  const TableFile blooms{"blooms", "Name\tSize\tQty\nEmber dahlia\t12\t8\n"};
  TablesInput input;
  CHECK(plain(wordsOf(firstWall(input))));
  input.grid = grid;
  CHECK(plain(wordsOf(firstWall(input))));
  input.blooms = blooms;
  const auto made = firstWall(input);
  REQUIRE(made);
  CHECK(plain(made.value->guesses));
  input.size = "96x96";
  CHECK(plain(wordsOf(firstWall(input))));
  input.size = "wide";
  input.panel = "high";
  CHECK(plain(wordsOf(firstWall(input))));
  CHECK(plain(firstWall(Answers{}).value->guesses));
}

TEST_CASE("a folder shows folders, then plans, by name") {
  const ScratchFolder folder;
  for (const char* name : {"b.toml", "A.TOML", "notes.txt", ".hidden.toml"}) write(folder.path() / name, "");
  std::filesystem::create_directories(folder.path() / "walls");
  std::filesystem::create_directories(folder.path() / ".git");
  const auto listed = listFolder(folder.path(), {".toml"});
  REQUIRE(listed);
  CHECK((*listed.value == std::vector<FolderEntry>{{"walls", true}, {"A.TOML", false}, {"b.toml", false}}));
  CHECK(!listFolder(folder.path() / "nowhere", {".toml"}));
}
