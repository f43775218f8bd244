// Work is found again after whatever ended the program; nothing of a living one is taken for it.

#include "viewer/app/journal.h"

#include "engine/plan/write_plan.h"
#include "tests/app/scratch_folder.h"
#include "tests/app/test_plans.h"
#include "viewer/app/internal/journal_text.h"
#include "viewer/app/session.h"

#include <doctest/doctest.h>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::app;
namespace fs = std::filesystem;

namespace {

LoadedPlan numbered(int number) {
  LoadedPlan plan = *smallPlan();
  plan.plan.title = std::to_string(number);
  return plan;
}

struct Somewhere {
  ScratchFolder folder;
  fs::path plan = folder.path() / "wall.toml";
  fs::path state = folder.path() / "state";
  fs::path journal = folder.path() / ".wall.toml.journal";
  Somewhere() { write(plan, writePlan(smallPlan()->plan)); }
};

}  // namespace

TEST_CASE("the last plan written is the work; none while its window lives, none once it is saved") {
  const Somewhere at;
  {
    Journal journal(at.plan, at.state);
    CHECK(!fs::exists(at.journal));
    for (int k = 1; k <= 3; ++k) REQUIRE(!journal.write(numbered(k), k == 3));
    CHECK(fs::exists(at.journal));
    CHECK(!workOn(at.plan, at.state));
  }
  const auto work = workOn(at.plan, at.state);
  REQUIRE(work);
  CHECK((work->plan->plan == numbered(3).plan));
  CHECK(work->path == at.plan);
  Journal again(at.plan, at.state);
  // The work found isn't written over.
  REQUIRE(!again.write(numbered(9), true));
  CHECK(workIn(at.journal, at.plan));
  again.discard();
  CHECK(workOn(at.plan, at.state)->plan->plan.title == "3");
  CHECK(!fs::exists(at.folder.path() / ".wall.toml.2.journal"));
}

TEST_CASE("a record torn anywhere is as if it weren't there") {
  const std::string head = headText({"/walls/wall.toml", "/walls"});
  const std::string first = recordText("one");
  const std::string whole = head + first + recordText("two, longer");
  for (std::size_t length = 0; length <= whole.size(); ++length) {
    CAPTURE(length);
    const auto text = journalFrom(std::string_view(whole).substr(0, length));
    if (length < head.size() + first.size())
      CHECK(!text);
    else
      CHECK(text->plan == (length < whole.size() ? "one" : "two, longer"));
  }
  std::string spoilt = whole;
  spoilt[whole.size() - 3] ^= 1;
  CHECK(journalFrom(spoilt)->plan == "one");
  CHECK(journalFrom(whole)->head.path == "/walls/wall.toml");
}

TEST_CASE("a journal that grows long is begun anew and keeps the last plan") {
  const Somewhere at;
  Journal journal(at.plan, at.state);
  LoadedPlan plan = *smallPlan();
  plan.plan.layouts[0].blooms.resize(15'000, plan.plan.layouts[0].blooms.front());
  for (int k = 0; k < 20; ++k) {
    plan.plan.title[0] = static_cast<char>('a' + k);
    REQUIRE(!journal.write(plan, false));
    CHECK(fs::file_size(at.journal) < (std::uintmax_t{8} << 20));
    CHECK(!workIn(at.journal, at.plan));  // still held
  }
  Journal other(at.plan, at.state);
  other = Journal(at.folder.path() / "nothing.toml", at.state);
  journal = Journal(at.folder.path() / "nothing.toml", at.state);
  REQUIRE(workIn(at.journal, at.plan));
  CHECK((workIn(at.journal, at.plan)->plan->plan == plan.plan));
}

TEST_CASE("two windows on one plan keep journals of their own") {
  const Somewhere at;
  Journal one(at.plan, at.state);
  Journal other(at.plan, at.state);
  REQUIRE(!one.write(numbered(1), false));
  REQUIRE(!other.write(numbered(2), false));
  CHECK(fs::exists(at.folder.path() / ".wall.toml.2.journal"));
  one.discard();
  CHECK(!fs::exists(at.journal));
  CHECK(fs::exists(at.folder.path() / ".wall.toml.2.journal"));
}

TEST_CASE("work on a plan is offered when it is opened again, and taken up as one step") {
  const Somewhere at;
  SessionOptions options;
  options.live = false;
  options.state_folder = at.state;
  {
    Session session(options);
    session.perform(OpenPlan{at.plan});
    session.perform(Edit{SetTitle{"Changed"}});
    // Ended without a word: no ClosePlan.
  }
  Session session(options);
  session.perform(OpenPlan{at.plan});
  REQUIRE(session.state().found);
  CHECK(session.state().plan().title == "Small");
  SUBCASE("taken") {
    session.perform(TakeUpFoundWork{true});
    CHECK(session.state().plan().title == "Changed");
    CHECK(session.state().changed());
    CHECK(!session.state().found);
    session.perform(Undo{});
    CHECK(session.state().plan().title == "Small");
    session.perform(ClosePlan{});
    CHECK(!workOn(at.plan, at.state));
  }
  SUBCASE("thrown away") {
    session.perform(TakeUpFoundWork{false});
    CHECK(session.state().plan().title == "Small");
    CHECK(!workOn(at.plan, at.state));
  }
}

TEST_CASE("work that was nowhere saved is offered at the next start") {
  const Somewhere at;
  SessionOptions options;
  options.live = false;
  options.state_folder = at.state;
  {
    Session session(options);
    session.perform(StartWith{smallPlan()});
    session.perform(Edit{SetTitle{"New"}});
  }
  Session session(options);
  REQUIRE(session.state().found);
  session.perform(TakeUpFoundWork{true});
  CHECK(session.state().plan().title == "New");
  CHECK(session.state().path.empty());
  session.perform(SaveAs{at.folder.path() / "new.toml", false});
  CHECK(!session.state().changed());
  CHECK(!unsavedWork(at.state));
}
