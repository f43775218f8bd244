// The shipped program, run as a user would: what it prints, writes and ends with.

#include "tests/program/run_program.h"
#include "tests/support/manual_pages.h"
#include "tests/support/sanitized.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <random>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

using namespace petalproof::program;
namespace fs = std::filesystem;

namespace {

// A wall with nothing bare: covered ground, no slit.
constexpr const char* nothing_bare = R"(format = 1
title = "Covered"
units = "cm"
[wall]
columns = 2
rows = 1
panel = [60, 50]
seam = 0
board = { ground = "covered" }
grid = [["plain", "plain"]]
[[bloom]]
name = "sun"
shape = "dahlia"
diameter = 40
colour = "#c98a2b"
[[layout]]
name = "plain"
blooms = [ { bloom = "sun", at = [30, 25] } ]
[[shot]]
name = "front"
sensor = "full frame"
lens = 50
megapixels = 1
camera = [0, 25, 100]
aim = [0, 25]
)";

// The demo's own blooms, layouts and shots on a wall of two panels by three, in small pictures.
void writeSmallDemo(const TemporaryFolder& folder) {
  std::string text = textOf(demoPlan());
  const auto put = [&](const char* what, const char* instead) {
    const std::regex pattern(what);
    REQUIRE(std::regex_search(text, pattern));
    text = std::regex_replace(text, pattern, instead);
  };
  put("columns = 5\nrows = 5", "columns = 2\nrows = 3");
  put("grid = \\[[^=]*\\]\n\n",
      "grid = [[\"hearth\", \"dune\"], [\"orchard\", \"dusk\"], [\"dune upside down\", \"hearth\"]]\n\n");
  put("\nmegapixels = 12\n", "\n");
  put("\n(lens[a-z_]* = [0-9]+)\n", "\n$1\nmegapixels = 0.5\n");
  fs::create_directory(folder / "plans");
  write(folder / "plans/demo.toml", text);
  fs::copy(demoPlan().parent_path().parent_path() / "meshes", folder / "meshes");
}

// The lines of the demo's table that the README shows, without those that say that lines are left out.
std::vector<std::string> shownDemoLines() {
  using namespace petalproof::testing;
  std::vector<std::string> shown;
  for (const MarkdownBlock& block : pageBlocks(fs::path(PETALPROOF_SOURCE_DIR) / "README.md")) {
    if (!block.code.starts_with("Copper Evening\n")) continue;
    std::istringstream lines(block.code);
    for (std::string line; std::getline(lines, line);)
      if (line.find("\u2026") == std::string::npos) shown.push_back(line);
  }
  return shown;
}

std::set<std::string> namesIn(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.insert(entry.path().filename().string());
  return names;
}

}  // namespace

TEST_CASE("help and version") {
  const TemporaryFolder folder;
  const auto help = run({"--help"}, folder.path());
  CHECK(help.status == 0);
  CHECK(help.out.find("check") != std::string::npos);
  CHECK(run({"--version"}, folder.path()).out.find("petalproof 0.") == 0);
  CHECK(run({"check", "--help"}, folder.path()).out.find("--pictures") != std::string::npos);
}

TEST_CASE("help comes at once") {
  // Processor time, since a busy machine lets a program wait; the best of five, since the first reads the
  // disk.
  const TemporaryFolder folder;
  double least = 1;
  for (int k = 0; k < 5; ++k) least = std::min(least, run({"--help"}, folder.path()).seconds);
  CHECK(least < 0.05);
}

TEST_CASE("without a display the window says so, and that the commands need none") {
  const TemporaryFolder folder;
  REQUIRE(unsetenv("DISPLAY") == 0);
  REQUIRE(unsetenv("WAYLAND_DISPLAY") == 0);
  const std::vector<std::vector<std::string>> ways{
      {}, {tinyPlan().string()}, {"view"}, {"view", tinyPlan().string()}};
  for (const auto& words : ways) {
    const auto window = run(words, folder.path());
    CHECK(window.status == 3);
    CHECK(window.out == "");
    CHECK(window.err.find(
              "petalproof: there is no display to open a window on; `petalproof check PLAN` and the "
              "other commands need none") == 0);
  }
  CHECK(run({"check", tinyPlan().string(), "--quiet"}, folder.path()).status == 0);
}

TEST_CASE("a wrong command line says what would be right") {
  const TemporaryFolder folder;
  const auto typo = run({"chek", "plan.toml"}, folder.path());
  CHECK(typo.status == 2);
  CHECK(typo.out == "");
  CHECK(typo.err == "petalproof: unknown command \"chek\", did you mean \"check\"?; see petalproof --help\n");
  CHECK(run({"check"}, folder.path()).status == 2);
  CHECK(run({"check", tinyPlan().string(), "--nonsense"}, folder.path()).status == 2);
  CHECK(run({"check", tinyPlan().string(), "--threads", "0"}, folder.path()).status == 2);
  const auto missing = run({"check", "nowhere.toml"}, folder.path());
  CHECK(missing.status == 2);
  CHECK(missing.err.find("nowhere.toml: ") == 0);
}

TEST_CASE("a wrong plan is listed on stderr and nothing is written") {
  const TemporaryFolder folder;
  write(folder / "bad.toml", "format = 1\ntitle = \"Bad\"\nunits = \"inch\"\n");
  const auto bad = run({"check", "bad.toml", "--json", "out.json", "--pictures", "pictures"}, folder.path());
  CHECK(bad.status == 2);
  CHECK(bad.out == "");
  CHECK(bad.err.find("bad.toml:3:9: ") != std::string::npos);
  CHECK(namesIn(folder.path()) == std::set<std::string>{"bad.toml"});
}

TEST_CASE("the demo plan is checked") {
  const TemporaryFolder folder;
  const auto checked = run({"check", demoPlan().string(), "--strict", "--json", "a.json"}, folder.path());
  CHECK(checked.status == 1);  // gaps show
  CHECK(checked.err == "");
  for (const char* shot : {"couple", "group", "guest", "child", "whole wall"}) {
    CHECK(checked.out.find(shot) != std::string::npos);
  }
  const auto shown = shownDemoLines();
  CHECK(shown.size() > 15);
  for (const std::string& line : shown)
    CHECK_MESSAGE(checked.out.find(line + "\n") != std::string::npos, line);
  const auto found = nlohmann::json::parse(textOf(folder / "a.json"));
  CHECK(found["wall"]["panels"] == 25);
  CHECK(found["shots"].size() == 5);
  std::set<std::string> kinds;
  for (const auto& shot : found["shots"]) {
    const auto& share = shot["share"];
    const double sum = share["bloom"].get<double>() + share["board"].get<double>() +
                       share["seam"].get<double>() + share["behind"].get<double>() +
                       share["off"].get<double>();
    CHECK(sum == doctest::Approx(1).epsilon(1e-5));
    for (const auto& gap : shot["gaps"]) kinds.insert(gap["kind"].get<std::string>());
  }
  CHECK(kinds == std::set<std::string>{"board", "crossing", "seam"});
  // At most 40 bytes a pixel of the largest shot, the program and the wall's light among them.
  if (!petalproof::testing::sanitized) CHECK(checked.most_bytes < 40 * 24'000'000LL);
}

TEST_CASE("the same plan gives the same JSON, byte for byte, whatever the threads, and table") {
  const TemporaryFolder folder;
  writeSmallDemo(folder);
  std::string table;
  for (const char* threads : {"1", "2", "7"}) {
    const std::string name = std::string(threads) + ".json";
    const auto checked =
        run({"check", "plans/demo.toml", "--all", "--threads", threads, "--json", name}, folder.path());
    REQUIRE(checked.status == 0);
    CHECK(textOf(folder / name) == textOf(folder / "1.json"));
    if (table.empty()) table = checked.out;
    CHECK(checked.out == table);
  }
  const auto found = nlohmann::json::parse(textOf(folder / "1.json"));
  CHECK(found["shots"].size() == 5);
  std::set<std::string> reads;
  for (const auto& shot : found["shots"])
    for (const auto& gap : shot["gaps"]) reads.insert(gap["reads"].get<std::string>());
  CHECK(reads == std::set<std::string>{"faint", "lost", "shows"});
}

// Readings go through the mathematics library, which may round the last digits otherwise on another
// processor: their classes count here, their numbers in the reading's own tests.
std::string withoutReadingNumbers(const std::string& json) {
  static const std::regex numbers(R"("difference": [-+.e0-9]+, "odder_than": [-+.e0-9]+, )");
  return std::regex_replace(json, numbers, "");
}

TEST_CASE("the tiny plan gives the golden JSON") {
  const TemporaryFolder folder;
  REQUIRE(run({"check", tinyPlan().string(), "--quiet", "--json", "tiny.json"}, folder.path()).status == 0);
  const auto golden = fs::path(PETALPROOF_SOURCE_DIR) / "tests/program/data/tiny.json";
  CHECK(textOf(folder / "tiny.json").find("\"difference\": ") != std::string::npos);
  const std::string now = withoutReadingNumbers(textOf(folder / "tiny.json"));
  if (now != textOf(golden)) write(fs::temp_directory_path() / "petalproof-tiny.json", now);
  CHECK_MESSAGE(now == textOf(golden), "the result is left as petalproof-tiny.json in the temporary folder");
}

TEST_CASE("nothing bare is said plainly") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", nothing_bare);
  const auto checked = run({"check", "plan.toml", "--strict"}, folder.path());
  CHECK(checked.status == 0);
  CHECK(checked.out.find("nothing bare is seen") != std::string::npos);
}

TEST_CASE("a file that is not a report is never overwritten, a report is") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", nothing_bare);
  write(folder / "mine.json", "{ \"shopping\": true }");
  const auto refused = run({"check", "plan.toml", "--json", "mine.json"}, folder.path());
  CHECK(refused.status == 2);
  CHECK(refused.err == "mine.json: exists already and is not a report of petalproof; name a new file\n");
  CHECK(textOf(folder / "mine.json") == "{ \"shopping\": true }");
  CHECK(run({"check", "plan.toml", "--json", "ours.json"}, folder.path()).status == 0);
  CHECK(run({"check", "plan.toml", "--json", "ours.json"}, folder.path()).status == 0);
  CHECK(run({"check", "plan.toml", "--json", "plan.toml"}, folder.path()).status == 2);
  CHECK(textOf(folder / "plan.toml") == nothing_bare);
  CHECK(run({"check", "plan.toml", "--json", "no/such/folder.json"}, folder.path()).status == 2);
  CHECK(run({"check", "plan.toml", "--json", "/dev/full"}, folder.path()).status == 3);
  CHECK(namesIn(folder.path()) == std::set<std::string>{"mine.json", "ours.json", "plan.toml"});
}

TEST_CASE("pictures go to a folder of their own") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", nothing_bare);
  fs::create_directory(folder / "holiday");
  write(folder / "holiday/photo.png", "mine");
  const auto refused = run({"check", "plan.toml", "--pictures", "holiday"}, folder.path());
  CHECK(refused.status == 2);
  CHECK(namesIn(folder / "holiday") == std::set<std::string>{"photo.png"});

  REQUIRE(run({"check", "plan.toml", "--pictures", "out"}, folder.path()).status == 0);
  CHECK(namesIn(folder / "out") == std::set<std::string>{".petalproof-files", "1-front.png", "wall-map.png"});
  CHECK(textOf(folder / "out/1-front.png").substr(1, 3) == "PNG");
  CHECK(textOf(folder / "out/wall-map.png").substr(1, 3) == "PNG");

  std::string renamed = nothing_bare;
  renamed.replace(renamed.find("\"front\""), 7, "\"a/b\"");
  write(folder / "plan.toml", renamed);
  REQUIRE(run({"check", "plan.toml", "--pictures", "out"}, folder.path()).status == 0);
  CHECK(namesIn(folder / "out") == std::set<std::string>{".petalproof-files", "1-a-b.png", "wall-map.png"});
}

TEST_CASE("a new plan is written once and checks") {
  const TemporaryFolder folder;
  REQUIRE(run({"new", "my.toml", "--columns", "3", "--rows", "2", "--panel", "60,50", "--units", "cm"},
              folder.path())
              .status == 0);
  const std::string text = textOf(folder / "my.toml");
  CHECK(run({"check", "my.toml", "--shot", "detail"}, folder.path()).status == 0);
  const auto again = run({"new", "my.toml"}, folder.path());
  CHECK(again.status == 2);
  CHECK(again.err.find("my.toml") != std::string::npos);
  CHECK(textOf(folder / "my.toml") == text);
}

TEST_CASE("two tables become a plan that checks, and come back as tables") {
  const TemporaryFolder folder;
  write(folder / "grid.csv", "Day;Night\nnight;day upside down\n");
  write(folder / "blooms.csv",
        "My wall;;;\nFlower;Size;Qty;Colour\ndahlia;12 in;4;rust\nrose;7 in;12;ivory\nleaf;8 "
        "in;16;sage\nTotal;;32;\n");
  const auto made = run(
      {"new", "my.toml", "--grid", "grid.csv", "--blooms", "blooms.csv", "--panel", "24x20"}, folder.path());
  REQUIRE(made.status == 0);
  CHECK((made.out + made.err).find("guessed: ") != std::string::npos);
  CHECK(textOf(folder / "my.toml").find("# guessed: ") != std::string::npos);
  REQUIRE(run({"check", "my.toml", "--quiet", "--shot", "whole wall", "--json", "my.json"}, folder.path())
              .status == 0);
  CHECK(nlohmann::json::parse(textOf(folder / "my.json"))["wall"]["blooms"] == 32);

  REQUIRE(run({"tables", "my.toml", "--out", "tables"}, folder.path()).status == 0);
  CHECK(namesIn(folder / "tables") == std::set<std::string>{".petalproof-files", "blooms.csv", "grid.csv"});
  REQUIRE(run({"new", "again.toml", "--grid", "tables/grid.csv", "--blooms", "tables/blooms.csv", "--panel",
               "24x20"},
              folder.path())
              .status == 0);
  REQUIRE(run({"tables", "again.toml", "--out", "again"}, folder.path()).status == 0);
  CHECK(textOf(folder / "again/grid.csv") == textOf(folder / "tables/grid.csv"));
  CHECK(textOf(folder / "again/blooms.csv") == textOf(folder / "tables/blooms.csv"));
}

TEST_CASE("a spoiled table is answered with its cell and nothing is written") {
  const TemporaryFolder folder;
  write(folder / "blooms.csv", "Flower,Size,Qty,Colour\nrose,4-Mar,12,ivory\n");
  const auto refused = run({"new", "my.toml", "--blooms", "blooms.csv"}, folder.path());
  CHECK(refused.status == 2);
  CHECK(refused.err.find("blooms.csv:2:B: \"4-Mar\"") != std::string::npos);
  CHECK(namesIn(folder.path()) == std::set<std::string>{"blooms.csv"});
}

namespace {

// A table with some bytes lost, doubled or changed.
std::string damagedTable(std::string bytes, std::mt19937_64& random) {
  static constexpr std::string_view marks = ",;\t\"\r\n\xff\xfe'/-.#= \x80";
  for (int k = 0; k < 4; ++k) {
    const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
    const std::size_t at = below(bytes.size() + 1);
    switch (below(3)) {
      case 0: bytes.insert(at, 1, marks[below(marks.size())]); break;
      case 1: bytes.erase(at, below(12)); break;
      default: bytes.insert(at, bytes.substr(below(bytes.size() + 1), below(30)));
    }
  }
  return bytes;
}

}  // namespace

TEST_CASE("damaged tables leave a plan that loads, or nothing, and touch no other file") {
  const TemporaryFolder folder;
  const std::string grid = "sun,drift\ndrift,sun upside down\n";
  const std::string blooms =
      "Flower,Size,Qty,Colour\nDahlia,\"12\"\"\",4,rust\nRose,7 1/4,8,ivory\nLeaf,8 in,8,sage\nTotal,,20,\n";
  write(folder / "mine.toml", "not to be touched");
  int made = 0;
  int refused = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    std::mt19937_64 random(seed);
    const std::string damaged_grid = seed % 3 == 0 ? damagedTable(grid, random) : grid;
    const std::string damaged_blooms = seed % 3 == 0 ? blooms : damagedTable(blooms, random);
    write(folder / "grid.csv", damaged_grid);
    write(folder / "blooms.csv", damaged_blooms);
    const auto outcome =
        run({"new", "wall.toml", "--grid", "grid.csv", "--blooms", "blooms.csv"}, folder.path());
    const bool written = std::filesystem::exists(folder / "wall.toml");
    CHECK((outcome.status == 0 || outcome.status == 2));  // never a crash
    CHECK(written == (outcome.status == 0));
    CHECK(outcome.err.empty() == (outcome.status == 0));
    (written ? made : refused) += 1;
    CHECK(textOf(folder / "grid.csv") == damaged_grid);
    CHECK(textOf(folder / "blooms.csv") == damaged_blooms);
    std::filesystem::remove(folder / "wall.toml");
    CHECK(run({"new", "mine.toml", "--grid", "grid.csv", "--blooms", "blooms.csv"}, folder.path()).status ==
          2);
    CHECK(textOf(folder / "mine.toml") == "not to be touched");
    const auto files = std::filesystem::directory_iterator(folder.path());
    CHECK(std::distance(begin(files), end(files)) == 3);
  }
  CHECK(made > 5);
  CHECK(refused > 5);
}

TEST_CASE("a recipe alone makes a wall of about the size asked") {
  const TemporaryFolder folder;
  const auto made = run({"new", "my.toml", "--recipe", "large=1,medium=3,small=8,spray=2", "--size", "96x96",
                         "--panel", "20x16"},
                        folder.path());
  REQUIRE(made.status == 0);
  CHECK((made.out + made.err).find("5 × 6 panels of 20 × 16 in: 100 × 96 in, 4 in wider than asked") !=
        std::string::npos);
  REQUIRE(run({"new", "small.toml", "--recipe", "large=1,small=3", "--size", "40x16", "--panel", "20x16"},
              folder.path())
              .status == 0);
  CHECK(run({"check", "small.toml", "--quiet", "--shot", "whole wall"}, folder.path()).status == 0);
}

TEST_CASE("advice is printed under the table and is in the JSON, the same for any number of threads") {
  const TemporaryFolder folder;
  std::string text = textOf(tinyPlan());
  write(folder / "plan.toml", text + "megapixels = 1\n");
  const auto plain = run({"check", "plan.toml", "--json", "plain.json"}, folder.path());
  CHECK(plain.out.find("What would help") == std::string::npos);
  CHECK_FALSE(nlohmann::json::parse(textOf(folder / "plain.json")).contains("advice"));
  for (const char* const threads : {"1", "3"}) {
    const std::string name = std::string(threads) + ".json";
    const auto advised =
        run({"check", "plan.toml", "--advice", "--threads", threads, "--json", name}, folder.path());
    REQUIRE(advised.status == 0);
    CHECK(advised.out.find("\nWhat would help\n") != std::string::npos);
  }
  CHECK(textOf(folder / "1.json") == textOf(folder / "3.json"));
  const auto advice = nlohmann::json::parse(textOf(folder / "1.json"))["advice"];
  CHECK(advice["shows"].get<int>() > 0);  // white board in full view
  CHECK(advice["shots"].size() == 1);
  REQUIRE(advice["boards"].size() >= 4);  // two blooms' colours, black and kraft; white is the board's own
  for (std::size_t k = 1; k < advice["boards"].size(); ++k)
    CHECK(advice["boards"][k - 1]["shows"].get<int>() <= advice["boards"][k]["shows"].get<int>());
}
