#include "viewer/app/first_wall.h"
#include "viewer/app/first_wall_maker.h"

#include "engine/plan/write_plan.h"
#include "tests/app/scratch_folder.h"
#include "viewer/app/folder_listing.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <thread>

using namespace petalproof;
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
  // 14 blooms on each of 20 panels.
  CHECK(bloomsOnWall(plan) == 280);
  for (const Bloom& bloom : plan.blooms)
    for (const Colour colour : bloom.colours) {
      const Palette& palette = palettes()[2];
      CHECK((colour == palette.green ||
             std::find(palette.blooms.begin(), palette.blooms.end(), colour) != palette.blooms.end()));
    }
  CHECK(findBloom(plan, "bud")->filler);
  const auto again = readPlan(writePlan(plan), "again", {});
  REQUIRE(again);
  CHECK((again.value->plan == plan));
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
  CHECK(sameArrangement(answers, other));
  const auto anew = madeAnew(*first.value, other);
  const auto fresh = firstWall(other);
  REQUIRE(anew);
  REQUIRE(fresh);
  CHECK((anew.value->plan->plan == fresh.value->plan->plan));
  CHECK(!(anew.value->plan->plan == first.value->plan->plan));
  REQUIRE(anew.value->scene);
  CHECK(anew.value->scene->blooms.size() == static_cast<std::size_t>(bloomsOnWall(anew.value->plan->plan)));
  other.small = 5;
  CHECK(!sameArrangement(answers, other));
}

TEST_CASE("of several walls asked for, only the last is handed out; of none that isn't wanted any more") {
  FirstWallMaker maker;
  const auto named = [](const char* name) {
    return [name] {
      FirstWall wall;
      wall.comes_to = name;
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
      return Result<FirstWall>::success(std::move(wall));
    };
  };
  const auto waitFor = [&] {
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(20);
    for (;;) {
      auto made = maker.take();
      if (made || std::chrono::steady_clock::now() > end) return made;
      std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
  };
  for (const char* name : {"one", "two", "three"}) maker.ask(named(name));
  CHECK(maker.isBusy());
  const auto made = waitFor();
  REQUIRE(made);
  CHECK(made->value->comes_to == "three");
  CHECK(!maker.isBusy());
  CHECK(!maker.take());
  maker.ask(named("four"));
  maker.forget();
  CHECK(!maker.isBusy());
  std::this_thread::sleep_for(std::chrono::milliseconds(200));
  CHECK(!maker.take());
  maker.ask(named("five"));
  const auto last = waitFor();
  REQUIRE(last);
  CHECK(last->value->comes_to == "five");
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
