#include "engine/plan/change_fillers.h"
#include "engine/plan/change_paths.h"

#include "engine/plan/read_plan.h"
#include "engine/plan/write_plan.h"
#include "tests/plan/generated_plan.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;

namespace {

const std::string head =
    "format = 1 # the first\n"
    "title = \"a [[filler]] # in a title\"\n"
    "units = \"in\"\n";
const std::string rest =
    "[wall] # below\n"
    "columns = 1\n"
    "rows = 1\n"
    "panel = [24, 20]\n"
    "grid = [[\"sun\"]]\n"
    "[[bloom]]\n"
    "name = \"bud\"\n"
    "shape = \"bud\"\n"
    "diameter = 3\n"
    "colour = \"#e8a23d\"\n"
    "[[layout]]\n"
    "name = \"sun\"\n"
    "blooms = []\n";

Filler budAt(double from_left, double from_top) {
  Filler filler;
  filler.placement.bloom = "bud";
  filler.placement.at = {{from_left}, {from_top}};
  return filler;
}

Plan planOf(const std::string& text, const std::filesystem::path& folder = {}) {
  const auto loaded = readPlan(text, "plan.toml", folder);
  for (const Problem& problem : loaded.problems) MESSAGE(toString(problem));
  INFO(text);
  REQUIRE(loaded);
  return loaded.value->plan;
}

// The changed text, checked for reading as the plan with these fillers.
std::string changed(const std::string& text, const std::vector<int>& kept, const std::vector<Filler>& added) {
  Plan expected = planOf(text);
  const auto own = expected.fillers;
  expected.fillers.clear();
  for (const int filler : kept) expected.fillers.push_back(own[static_cast<std::size_t>(filler)]);
  expected.fillers.insert(expected.fillers.end(), added.begin(), added.end());
  const std::string result = withFillers(text, kept, added);
  CAPTURE(result);
  CHECK((planOf(result) == expected));
  return result;
}

std::string withCrlf(const std::string& text) {
  std::string result;
  for (const char c : text) result += c == '\n' ? std::string("\r\n") : std::string(1, c);
  return result;
}

}  // namespace

TEST_CASE("the first fillers go to the end, what was there stays byte for byte") {
  const std::string text = head + rest;
  CHECK(withFillers(text, {}, {}) == text);
  CHECK(changed(text, {}, {budAt(23.9, 10), budAt(1, 2)}) ==
        text +
            "\n[[filler]]\nbloom = \"bud\"\nat = [23.9, 10]\n\n[[filler]]\nbloom = \"bud\"\nat = [1, 2]\n");
  CHECK(changed(text + "\n", {}, {budAt(1, 2)}) == text + "\n[[filler]]\nbloom = \"bud\"\nat = [1, 2]\n");
}

TEST_CASE("a text without a final newline gets one") {
  const std::string text = head + rest + "# the end";
  CHECK(changed(text, {}, {budAt(1, 2)}) == text + "\n\n[[filler]]\nbloom = \"bud\"\nat = [1, 2]\n");
}

TEST_CASE("Windows line ends and a byte order mark stay") {
  const std::string text = "\xEF\xBB\xBF" + withCrlf(head + rest);
  CHECK(changed(text, {}, {budAt(1, 2)}) == text + withCrlf("\n[[filler]]\nbloom = \"bud\"\nat = [1, 2]\n"));
  const std::string more =
      "\xEF\xBB\xBF" + withCrlf(head + "# früh\n[[filler]] # ä\nbloom = \"bud\"\nat = [3, 4]\n\n" + rest);
  CHECK(changed(more, {}, {budAt(1, 2)}) ==
        "\xEF\xBB\xBF" +
            withCrlf(head + "# früh\n# ä\n\n[[filler]]\nbloom = \"bud\"\nat = [1, 2]\n\n" + rest));
}

TEST_CASE("fillers in the middle of a plan are followed by the new ones") {
  const std::string old =
      "\n# mine:\n[[filler]]\nbloom = \"bud\" # a bud\nat = [\n  3, # left\n  4\n]\nfixed = true\n";
  const std::string second = "\n[[filler]] # two\nbloom = \"bud\"\nat = [5, 6]\n";
  const std::string text = head + old + second + "\n# the wall\n" + rest;
  const std::string third = "\n[[filler]]\nbloom = \"bud\"\nat = [1, 2]\n";
  CHECK(changed(text, {0, 1}, {budAt(1, 2)}) == head + old + second + third + "\n# the wall\n" + rest);
  CHECK(changed(text, {0}, {budAt(1, 2)}) == head + old + "\n# two\n" + third + "\n# the wall\n" + rest);
  CHECK(changed(text, {1}, {}) == head + "\n# mine:\n# a bud\n# left\n" + second + "\n# the wall\n" + rest);
}

TEST_CASE("entries without comments leave nothing behind") {
  const std::string one = "\n[[filler]]\nbloom = \"bud\"\nat = [3, 4]\n";
  const std::string two = "\n[[filler]]\nat = [5, 6]\nbloom = 'bud'\n";
  CHECK(changed(head + rest + one + two, {}, {}) == head + rest);
  CHECK(changed(head + rest + one + two, {1}, {}) == head + rest + two);
  CHECK(changed(head + one + two + "\n" + rest, {}, {}) == head + "\n" + rest);
  CHECK(changed(head + one + two + "\n" + rest, {}, {budAt(1, 2)}) ==
        head + "\n[[filler]]\nbloom = \"bud\"\nat = [1, 2]\n\n" + rest);
}

TEST_CASE("fillers in one list stay in one list") {
  const std::string a = "{ bloom = \"bud\", at = [3, 4] }";
  const std::string b = "{ bloom = \"bud\", at = [5, 6], turn = 1 }";
  const std::string c = "{ bloom = \"bud\", at = [1, 2] }";
  const auto text = [&](const std::string& list) { return head + "filler = " + list + " # all\n" + rest; };
  CHECK(changed(text("[]"), {}, {budAt(1, 2)}) == text("[ " + c + " ]"));
  CHECK(changed(text("[" + a + "]"), {0}, {budAt(1, 2)}) == text("[" + a + ", " + c + " ]"));
  CHECK(changed(text("[ " + a + ", " + b + " ]"), {1}, {}) == text("[ " + b + " ]"));
  const std::string lines = "[ # two\n\t" + a + ", # a\n\t" + b + " # b\n]";
  CHECK(changed(text(lines), {0, 1}, {budAt(1, 2)}) ==
        text("[ # two\n\t" + a + ", # a\n\t" + b + ", # b\n\t" + c + ",\n]"));
  CHECK(changed(text(lines), {1}, {budAt(1, 2)}) ==
        text("[ # two\n\t# a\n\t" + b + ", # b\n\t" + c + ",\n]"));
  changed(text(lines), {0}, {budAt(1, 2), budAt(2, 2)});
  changed(text(lines), {}, {budAt(1, 2)});
  changed(text(lines), {}, {});
  changed(text("[\n  " + a + "\n  , " + b + "]"), {1}, {budAt(1, 2)});
  changed(text("[\n  " + a + " # x, y\n  , " + b + "]"), {1}, {budAt(1, 2)});
  changed(text("[\n  " + a + " # x, y\n  , " + b + ",\n]"), {0}, {budAt(1, 2)});
  CHECK(changed(text("[\n  " + a + ",\n  " + b + ",\n]"), {1}, {}) == text("[\n  " + b + ",\n]"));
}

TEST_CASE("any plan with any fillers kept and added reads as it should") {
  for (std::uint64_t seed = 0; seed < 400; ++seed) {
    CAPTURE(seed);
    const Plan plan = generatedPlan(seed);
    const Plan other = generatedPlan(seed + 1000);
    std::string text = writePlan(plan);
    if (seed % 2 == 1) text = withCrlf(text);
    if (seed % 3 == 1) text += "# the end";
    std::vector<int> kept;
    for (int i = 0; i < static_cast<int>(plan.fillers.size()); ++i)
      if ((seed >> (i % 8) & 1U) != 0) kept.push_back(i);
    std::vector<Filler> added = other.fillers;
    for (Filler& filler : added) filler.placement.bloom = plan.blooms.front().name;
    changed(text, kept, plan.blooms.empty() ? std::vector<Filler>{} : added);
  }
}

TEST_CASE("in another folder the paths lead to the same files") {
  const auto folder = std::filesystem::temp_directory_path() / "petalproof-paths-test";
  std::filesystem::create_directories(folder / "plans" / "deep");
  std::filesystem::create_directories(folder / "out");
  std::ofstream(folder / "grid \"1\".csv") << "sun\n";
  std::string text = head + rest;
  text.replace(text.find("[[\"sun\"]]"), 9, "'../grid \"1\".csv' # the grid");
  text.replace(text.find("shape = \"bud\""), 13, "mesh = \"deep/a.obj\" # own");
  const Plan plan = planOf(text, folder / "plans");
  CHECK(withPathsFrom(text, folder / "plans", folder / "plans" / "." / "") == text);
  const std::string moved = withPathsFrom(text, folder / "plans", folder / "out");
  CHECK(moved.find("grid = \"../grid \\\"1\\\".csv\" # the grid\n") != std::string::npos);
  CHECK(moved.find("mesh = \"../plans/deep/a.obj\" # own\n") != std::string::npos);
  Plan again = planOf(moved, folder / "out");
  CHECK((again.wall == plan.wall));
  CHECK((planOf(withPathsFrom(moved, folder / "out", folder / "plans"), folder / "plans") == plan));
  std::string absolute = text;
  absolute.replace(absolute.find("deep/a.obj"), 10, "/deep/a.obj");
  CHECK(withPathsFrom(absolute, folder / "plans", folder / "out").find("\"/deep/a.obj\"") !=
        std::string::npos);
  std::filesystem::remove_all(folder);
}
