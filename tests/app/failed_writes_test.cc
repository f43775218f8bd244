// Each system call that saving or the journal makes fails once, and with all after it. Files are whole then,
// nothing is left behind, what was acknowledged can be read back, and the window says so until work is safe.

#include "engine/plan/write_plan.h"
#include "tests/app/failing_calls.h"
#include "tests/app/scratch_folder.h"
#include "tests/app/test_plans.h"
#include "viewer/app/journal.h"
#include "viewer/app/session.h"

#include <doctest/doctest.h>

#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <algorithm>
#include <csignal>
#include <fstream>
#include <functional>
#include <optional>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::app;
namespace fs = std::filesystem;

namespace {

LoadedPlan planNumbered(int number) {
  LoadedPlan plan = *smallPlan();
  plan.plan.title = std::to_string(number);
  return plan;
}

Action titleEdit(const std::string& words) { return Edit{SetTitle{words}}; }

struct FailingPlace {
  ScratchFolder folder;
  fs::path plan = folder.path() / "wall.toml";
  fs::path state = folder.path() / "state";
  fs::path journal = folder.path() / ".wall.toml.journal";
  explicit FailingPlace(const std::string& comment = "") {
    write(plan, comment + writePlan(smallPlan()->plan));
  }

  SessionOptions options() const {
    SessionOptions options;
    options.live = false;
    options.state_folder = state;
    options.retry = std::chrono::milliseconds(0);
    return options;
  }
};

// Names in a folder and those below it that start with a dot and end with ".part": drafts.
std::vector<std::string> draftsIn(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.path().extension() == ".part") names.push_back(entry.path().filename());
  return names;
}

std::optional<int> numberOnDisk(const FailingPlace& at) {
  const auto work = workOn(at.plan, at.state);
  return work ? std::optional(std::stoi(work->plan->plan.title)) : std::nullopt;
}

// No file may be larger meanwhile: a disk that is full without being.
class SmallFiles {
 public:
  explicit SmallFiles(rlim_t bytes) : handler_(std::signal(SIGXFSZ, SIG_IGN)) {
    ::getrlimit(RLIMIT_FSIZE, &before_);
    rlimit limit = before_;
    limit.rlim_cur = bytes;
    ::setrlimit(RLIMIT_FSIZE, &limit);
  }
  ~SmallFiles() {
    ::setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, handler_);
  }
  SmallFiles(const SmallFiles&) = delete;
  SmallFiles& operator=(const SmallFiles&) = delete;

 private:
  rlimit before_ = {};
  void (*handler_)(int) = nullptr;
};

// A file system of its own with very little room; not there where the test may not mount.
class SmallDisk {
 public:
  explicit SmallDisk(fs::path folder) : folder_(std::move(folder)) {
    fs::create_directories(folder_);
    mounted_ = ::mount("tmpfs", folder_.c_str(), "tmpfs", 0, "size=64k") == 0;
  }
  ~SmallDisk() {
    if (mounted_) ::umount2(folder_.c_str(), MNT_DETACH);
  }
  SmallDisk(const SmallDisk&) = delete;
  SmallDisk& operator=(const SmallDisk&) = delete;
  bool isThere() const { return mounted_; }

 private:
  fs::path folder_;
  bool mounted_ = false;
};

// Five plans are written to a journal, `failing` from the third on. What a reader finds is the last plan that
// was acknowledged or a later one. How many calls were made after the second.
int writeFivePlans(int which, Failure how) {
  const FailingPlace at;
  int calls = 0;
  int acknowledged = 0;
  {
    Journal journal(at.plan, at.state);
    REQUIRE(!journal.write(planNumbered(1), true));
    REQUIRE(!journal.write(planNumbered(2), true));
    acknowledged = 2;
    {
      const FailingCalls failing(which, how);
      for (int number = 3; number <= 5; ++number)
        if (!journal.write(planNumbered(number), true)) acknowledged = number;
      calls = failing.calls();
    }
    if (which == FailingCalls::none) CHECK(acknowledged == 5);
  }
  CHECK(draftsIn(at.folder.path()).empty());
  const auto found = numberOnDisk(at);
  REQUIRE(found);
  CHECK(*found >= acknowledged);
  CHECK(*found <= 5);
  return calls;
}

// The same, with room again for the last plan: that must be safe, and be found.
void writeAfterFailures(int which, Failure how, int before) {
  const FailingPlace at;
  {
    Journal journal(at.plan, at.state);
    for (int number = 1; number <= before; ++number) REQUIRE(!journal.write(planNumbered(number), true));
    {
      const FailingCalls failing(which, how);
      for (int number = before + 1; number <= before + 3; ++number)
        (void)journal.write(planNumbered(number), number % 2 == 0);
    }
    REQUIRE(!journal.write(planNumbered(99), true));
  }
  CHECK(numberOnDisk(at) == 99);
  CHECK(draftsIn(at.folder.path()).empty());
}

// A plan with comments is opened, changed and saved while calls fail. How many calls were made.
int saveOnce(int which, Failure how) {
  const FailingPlace at("# the wall of June\n");
  const std::string old = textIn(at.plan);
  int calls = 0;
  bool saved = false;
  std::string at_risk;
  Plan on_screen;
  {
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    {
      const FailingCalls failing(which, how);
      session.perform(titleEdit("3"));
      session.perform(Save{});
      calls = failing.calls();
    }
    saved = !session.state().changed();
    at_risk = session.state().at_risk;
    on_screen = session.state().plan();
    CHECK(draftsIn(at.folder.path()).empty());
    if (saved)
      CHECK(textIn(at.plan) == writePlan(on_screen));
    else
      CHECK(textIn(at.plan) == old);
    // The kept copy of the old file is there with the new file, or not at all.
    CHECK(fs::exists(at.folder.path() / "wall.before.toml") == saved);
    if (saved) CHECK(textIn(at.folder.path() / "wall.before.toml") == old);
    if (!saved) CHECK(!session.state().problems.empty());
    if (saved) CHECK(at_risk.empty());
  }
  if (!saved && at_risk.empty()) CHECK(numberOnDisk(at) == 3);
  if (saved) CHECK(!numberOnDisk(at));
  return calls;
}

void forEachCall(const std::function<int(int, Failure)>& run, int at_least) {
  const int calls = run(FailingCalls::none, Failure::once);
  CHECK(calls >= at_least);
  for (const Failure how : {Failure::once, Failure::onwards})
    for (int which = 1; which <= calls; ++which) {
      CAPTURE(which);
      CAPTURE(static_cast<int>(how));
      run(which, how);
    }
}

}  // namespace

TEST_CASE("whichever call of the journal fails, what was acknowledged can be read back") {
  forEachCall(writeFivePlans, 6);
}

TEST_CASE("after whichever failure of the journal, the next plan that can be written is found") {
  constexpr int most_calls = 40;
  for (const int before : {0, 1})
    for (const Failure how : {Failure::once, Failure::onwards})
      for (int which = 1; which <= most_calls; ++which) {
        CAPTURE(before);
        CAPTURE(which);
        CAPTURE(static_cast<int>(how));
        writeAfterFailures(which, how, before);
      }
}

TEST_CASE(
    "whichever call of saving fails, the old file or the new one is whole, and nothing is left behind") {
  forEachCall(saveOnce, 12);
}

TEST_CASE("the folder is synced after a journal was made in it, and its failure is told") {
  const FailingPlace at;
  int makes = 0;
  {
    Journal journal(at.plan, at.state);
    const FailingCalls counting(FailingCalls::none, Failure::once);
    REQUIRE(!journal.write(planNumbered(1), false));
    makes = counting.calls();
  }
  fs::remove(at.journal);
  // The last two: the folder is opened and synced.
  for (const int which : {makes - 1, makes}) {
    Journal journal(at.plan, at.state);
    {
      const FailingCalls failing(which, Failure::once);
      CHECK(journal.write(planNumbered(1), false) == "the disk is full");
    }
    CHECK(fs::exists(at.journal));
    CHECK(!journal.write(planNumbered(2), false));
    journal.discard();
  }
}

TEST_CASE("the window says that work isn't safe until it is") {
  const FailingPlace at;
  int last = 0;
  {
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    session.perform(titleEdit("1"));
    CHECK(session.state().at_risk.empty());
    {
      const FailingCalls full(1, Failure::onwards);
      session.perform(titleEdit("2"));
      CHECK(session.state().at_risk == "the disk is full");
      session.perform(Dismiss{});
      session.perform(Select{});
      CHECK(!session.poll());
      CHECK(session.state().at_risk == "the disk is full");
    }
    SUBCASE("another edit is written") { session.perform(titleEdit("22")); }
    SUBCASE("it is tried again by itself") { CHECK(session.poll()); }
    SUBCASE("the window is come back to") { session.perform(LookAtDisk{}); }
    CHECK(session.state().at_risk.empty());
    last = std::stoi(session.state().plan().title);
  }
  CHECK(last >= 2);
  CHECK(numberOnDisk(at) == last);
}

TEST_CASE("work that is taken up stays in its old journal until the new one is on the disk") {
  const FailingPlace at;
  {
    Journal journal(at.plan, at.state);
    REQUIRE(!journal.write(planNumbered(7), true));
  }
  const std::string old = textIn(at.journal);
  Session session(at.options());
  session.perform(OpenPlan{at.plan});
  REQUIRE(session.state().found);
  {
    const FailingCalls full(1, Failure::onwards);
    session.perform(TakeUpFoundWork{true});
    CHECK(session.state().plan().title == "7");
    CHECK(!session.state().at_risk.empty());
  }
  CHECK(textIn(at.journal) == old);
  SUBCASE("then it goes") {
    session.perform(titleEdit("8"));
    CHECK(session.state().at_risk.empty());
    CHECK(!fs::exists(at.journal));
    CHECK(fs::exists(at.folder.path() / ".wall.toml.2.journal"));
  }
  SUBCASE("or is saved") {
    session.perform(Save{});
    CHECK(!session.state().changed());
    CHECK(!fs::exists(at.journal));
  }
}

namespace {

// Long, and a number all the same: plans of such titles take more room than the first one's.
std::string longNumber(int number) { return std::string(190, '0') + std::to_string(number); }

// A disk that fills up by `fill` and is freed again by `free`.
void fillAndFree(const FailingPlace& at, const std::function<void()>& fill,
                 const std::function<void()>& free) {
  {
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    session.perform(titleEdit("1"));
    REQUIRE(session.state().at_risk.empty());
    fill();
    int number = 2;
    while (session.state().at_risk.empty() && number < 500) session.perform(titleEdit(longNumber(number++)));
    CHECK(!session.state().at_risk.empty());
    session.perform(titleEdit(longNumber(number)));
    CHECK(!session.state().at_risk.empty());
    free();
    session.perform(titleEdit("1000"));
    CHECK(session.state().at_risk.empty());
    session.perform(titleEdit("1001"));
  }
  CHECK(numberOnDisk(at) == 1001);
  CHECK(draftsIn(at.folder.path()).empty());
}

}  // namespace

TEST_CASE("where no file may grow, work is at risk; once it may again, later work is read back") {
  const FailingPlace at;
  std::optional<SmallFiles> small;
  // A part of the second record fits in.
  const auto fill = [&] { small.emplace(rlim_t{fs::file_size(at.journal) + 100}); };
  fillAndFree(at, fill, [&] { small.reset(); });
}

TEST_CASE("a plan that can't be saved is named, with the reason") {
  const FailingPlace at;
  Session session(at.options());
  session.perform(OpenPlan{at.plan});
  session.perform(titleEdit("1"));
  {
    const SmallFiles small(rlim_t{10});
    session.perform(Save{});
  }
  REQUIRE(session.state().problems.size() == 1);
  CHECK(session.state().problems[0].place.file == at.plan.string());
  CHECK(session.state().problems[0].message.starts_with("the plan can't be saved here: "));
  CHECK(session.state().changed());
}

TEST_CASE("a journal that may not grow is begun anew and keeps work safe") {
  const FailingPlace at;
  {
    const SmallFiles small(5000);
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    for (int number = 1; number <= 30; ++number) {
      session.perform(titleEdit(std::to_string(number)));
      CHECK(session.state().at_risk.empty());
    }
  }
  CHECK(numberOnDisk(at) == 30);
}

TEST_CASE("on a small disk that is full and then freed, later work is read back") {
  const ScratchFolder folder;
  const SmallDisk disk(folder.path() / "disk");
  if (!disk.isThere()) {
    MESSAGE("no file system may be mounted here");
    return;
  }
  FailingPlace at;
  at.plan = folder.path() / "disk" / "wall.toml";
  at.state = folder.path() / "disk" / "state";
  at.journal = folder.path() / "disk" / ".wall.toml.journal";
  write(at.plan, writePlan(smallPlan()->plan));
  const fs::path ballast = folder.path() / "disk" / "ballast";
  const auto fill = [&] {
    std::ofstream out(ballast, std::ios::binary);
    for (int k = 0; k < 1000 && out.put('x'); ++k) out << std::string(63, 'x') << std::flush;
  };
  fillAndFree(at, fill, [&] { fs::remove(ballast); });
}

TEST_CASE("a full disk beside the plan: work goes to the state folder, where there is room") {
  const ScratchFolder folder;
  const SmallDisk disk(folder.path() / "disk");
  if (!disk.isThere()) {
    MESSAGE("no file system may be mounted here");
    return;
  }
  FailingPlace at;
  at.plan = folder.path() / "disk" / "wall.toml";
  at.journal = folder.path() / "disk" / ".wall.toml.journal";
  write(at.plan, writePlan(smallPlan()->plan));
  {
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    for (int number = 1; number <= 200; ++number) {
      session.perform(titleEdit(std::to_string(number)));
      REQUIRE(session.state().at_risk.empty());
    }
  }
  CHECK(!fs::exists(at.journal));
  CHECK(numberOnDisk(at) == 200);
}
