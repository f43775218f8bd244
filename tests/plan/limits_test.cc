// Limits that protect the program: answered in words, and before memory is asked for.
#include "engine/plan/read_plan.h"
#include "tests/support/texts.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;

namespace {

struct Sections {
  std::string wall = "columns = 2\nrows = 1\npanel = [24, 20]\ngrid = [ [\"sun\", \"sun\"] ]\n";
  std::string layout = "name = \"sun\"\nblooms = []\n";
  std::string rest;
};

std::string planText(const Sections& sections) {
  return fmt::format(
      "format = 1\ntitle = \"Limits\"\nunits = \"in\"\n[wall]\n{}[[bloom]]\nname = \"ember\"\nshape = "
      "\"rose\"\ndiameter = 4\ncolour = \"#fff\"\n[[layout]]\n{}{}",
      sections.wall, sections.layout, sections.rest);
}

std::string problemsOf(const std::string& text, const PlanLimits& limits = {}) {
  return testing::problemsOf(readPlan(text, "plan.toml", {}, limits));
}

std::string repeated(std::string_view text, int times) {
  std::string all;
  for (int k = 0; k < times; ++k) all += text;
  return all;
}

std::string wallOf(int columns, int rows) {
  const std::string row = fmt::format("[{}],\n", repeated("\"sun\", ", columns));
  return fmt::format("columns = {}\nrows = {}\npanel = [24, 20]\ngrid = [\n{}]\n", columns, rows,
                     repeated(row, rows));
}

std::string layoutOf(int blooms) {
  return fmt::format("name = \"sun\"\nblooms = [\n{}]\n",
                     repeated("  { bloom = \"ember\", at = [1, 1] },\n", blooms));
}

std::string shots(int count) {
  std::string all;
  for (int k = 0; k < count; ++k)
    all += fmt::format(
        "[[shot]]\nname = \"{}\"\nsensor = \"phone\"\nlens = 6\ncamera = [0, 50, 90]\naim = [0, 50]\n", k);
  return all;
}

}  // namespace

TEST_CASE("200 x 200 cells are read, 201 are not") {
  CHECK(problemsOf(planText({wallOf(200, 200), layoutOf(0), ""})).empty());
  CHECK(problemsOf(planText({wallOf(201, 1), layoutOf(0), ""})) ==
        "plan.toml:5:11: the wall has 201 columns, more than the limit of 200\n");
  CHECK(problemsOf(planText({wallOf(1, 201), layoutOf(0), ""})) ==
        "plan.toml:6:8: the wall has 201 rows, more than the limit of 200\n");
}

TEST_CASE("a wall of a million million cells is refused at once") {
  const std::string wall = "columns = 9000000000000000000\nrows = 1000000\npanel = [24, 20]\ngrid = []\n";
  CHECK(problemsOf(planText({wall, layoutOf(0), ""})) ==
        "plan.toml:5:11: the wall has 9000000000000000000 columns, more than the limit of 200\n"
        "plan.toml:6:8: the wall has 1000000 rows, more than the limit of 200\n");
}

TEST_CASE("200,000 blooms hang on a wall, one more is too many") {
  // 200 x 100 panels of ten blooms.
  CHECK(problemsOf(planText({wallOf(200, 100), layoutOf(10), ""})).empty());
  CHECK(problemsOf(
            planText({wallOf(200, 100), layoutOf(10), "[[filler]]\nbloom = \"ember\"\nat = [1, 1]\n"})) ==
        "plan.toml:4:1: 200001 blooms hang on the wall, more than the limit of 200000\n");
}

TEST_CASE("100 shots are read, 101 are not") {
  CHECK(problemsOf(planText({Sections{}.wall, layoutOf(0), shots(100)})).empty());
  CHECK(problemsOf(planText({Sections{}.wall, layoutOf(0), shots(101)})) ==
        "plan.toml:618:1: the plan has 101 shots, more than the limit of 100\n");
}

TEST_CASE("16 MiB of text are read, a byte more is not") {
  const std::string text = planText({}) + "#";
  const std::size_t limit = PlanLimits{}.plan_bytes;
  CHECK(limit == 16U * 1024 * 1024);
  CHECK(problemsOf(text + std::string(limit - text.size(), '.')).empty());
  CHECK(problemsOf(text + std::string(limit - text.size() + 1, '.')) ==
        "plan.toml: has 16777217 bytes, more than the limit of 16777216\n");
}

TEST_CASE("a plan file larger than that isn't read into memory") {
  const auto result = loadPlan("/dev/zero");
  REQUIRE_FALSE(result);
  CHECK(toString(result.problems.front()) == "/dev/zero: can't be read: it is a device, not a file");
}

TEST_CASE("names have 100 characters at most, titles and labels 200, and letters count, not bytes") {
  const auto plan = [](int title, int label, int name, int mesh) {
    const auto letters = [](int count) { return repeated("\u00e9", count); };
    return fmt::format(
        "format = 1\ntitle = \"{}\"\nunits = \"in\"\n[wall]\ncolumns = 1\nrows = 1\npanel = [24, 20]\n"
        "grid = [[\"\"]]\n[[bloom]]\nname = \"{}\"\nlabel = \"{}\"\nmesh = \"{}\"\ndiameter = 4\n"
        "colour = \"#fff\"\n[[layout]]\nname = \"sun\"\nblooms = []\n",
        letters(title), letters(name), letters(label), letters(mesh));
  };
  CHECK(problemsOf(plan(200, 200, 100, 1000)) == "");
  CHECK(problemsOf(plan(201, 203, 101, 1001)) ==
        "plan.toml:2:9: \"title\" has 201 characters, 200 are the most\n"
        "plan.toml:10:8: \"name\" has 101 characters, 100 are the most\n"
        "plan.toml:11:9: \"label\" has 203 characters, 200 are the most\n"
        "plan.toml:12:8: \"mesh\" has 1001 characters, 1000 are the most\n");
  const std::string shot = "[[shot]]\nname = \"a\"\nlabel = \"" + repeated("x", 201) +
                           "\"\nlooked_at = \"print " + repeated("0", 300) +
                           "8x10\"\nsensor = \"phone\"\nlens = 6\ncamera = [0, 50, 90]\naim = [0, 50]\n";
  CHECK(problemsOf(planText({Sections{}.wall, layoutOf(0), shot})) ==
        "plan.toml:20:9: \"label\" has 201 characters, 200 are the most\n"
        "plan.toml:21:13: \"looked_at\" has 310 characters, 200 are the most\n");
}

TEST_CASE("a grid file that is no table, or of something else, isn't printed") {
  const auto problems = [](const std::string& bytes) {
    const auto folder = std::filesystem::temp_directory_path() / "petalproof-limits-grid";
    std::filesystem::create_directory(folder);
    std::ofstream(folder / "grid.csv", std::ios::binary) << bytes;
    const std::string wall = "columns = 2\nrows = 1\npanel = [24, 20]\ngrid = \"grid.csv\"\n";
    const auto read = readPlan(planText({wall, layoutOf(0), ""}), "plan.toml", folder);
    std::filesystem::remove_all(folder);
    return testing::problemsOf(read);
  };
  const std::string another =
      "plan.toml:8:8: the grid \"grid.csv\" is no grid of this wall: its rows and columns are others, and no "
      "cell "
      "has a layout's name; cells are parted by commas, semicolons or tabs\n";
  CHECK(problems("sun,sun\n") == "");
  CHECK(problems("root:x:0:0\nsecret:y:1:1\n") == another);
  CHECK(problems("\x89PNG\r\n\x1a\n secret") ==
        "grid.csv: is a picture; open it in the spreadsheet and save it as CSV\n");
  CHECK(problems("sun,sun\x01secret\n") == "grid.csv: is no text; save it as CSV in UTF-8\n");
  CHECK(problems("sun,\x9d\x90secret\n") == "grid.csv: is no text; save it as CSV in UTF-8\n");
  CHECK(problems("sun,snu\n").find("unknown layout \"snu\"") != std::string::npos);
}

TEST_CASE("the limits are the ones that are passed") {
  PlanLimits limits;
  limits.columns = 1;
  limits.shots = 0;
  CHECK(problemsOf(planText({Sections{}.wall, layoutOf(0), shots(1)}), limits) ==
        "plan.toml:5:11: the wall has 2 columns, more than the limit of 1\n"
        "plan.toml:18:1: the plan has 1 shots, more than the limit of 0\n");
}

TEST_CASE("hostile plans are answered, not suffered") {
  const auto answer = [](const std::string& text) {
    const auto start = std::chrono::steady_clock::now();
    const std::string problems = problemsOf(text);
    CHECK_FALSE(problems.empty());
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(60));
    return problems.substr(0, problems.find('\n'));
  };
  const int many = 1'000'000;
  const auto deep = [&](const char* before, const char* part, const char* after) {
    return answer(fmt::format("{}{}{}", before, repeated(part, many), after));
  };
  CHECK(deep("a = ", "[", "").find("more than 32 deep") != std::string::npos);
  CHECK(deep("a = ", "{a=", "").find("more than 32 deep") != std::string::npos);
  CHECK(deep("a", ".a", " = 1").find("more than 16 parts") != std::string::npos);
  CHECK(deep("[a", ".a", "]").find("more than 16 parts") != std::string::npos);
  CHECK(deep("[[a", " . \"a\"", "]]").find("more than 16 parts") != std::string::npos);
  std::string dotted;
  for (int k = 0; k < 300'000; ++k) dotted += fmt::format("a{}.b = 1\n", k);
  CHECK(answer(dotted).find("more than 10000 keys with dots") != std::string::npos);
  std::string headers;
  for (int k = 0; k < 300'000; ++k) headers += fmt::format("[a{}.b]\n", k);
  CHECK(answer(headers).find("more than 10000 keys with dots") != std::string::npos);
  // Many unknown names against many known ones.
  std::string names;
  for (int k = 0; k < 20'000; ++k)
    names += fmt::format(
        "[[bloom]]\nname = \"bloom {}\"\nshape = \"rose {}\"\n[[filler]]\nbloom = \"blom {}\"\n", k, k, k);
  answer(names);
  // A name as long as a book.
  answer(fmt::format("format = 1\n{} = 1\ntitle = \"{}\"\nunits = \"{}\"\n", std::string(many, 'x'),
                     std::string(many, 'y'), std::string(many, 'z')));
}
