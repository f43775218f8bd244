// Every bad plan and grid of tests/plan/data has its exact messages beside it, one a line.
#include "engine/base/file.h"
#include "engine/plan/read_plan.h"
#include "tests/plan/data_folder.h"
#include "tests/support/texts.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using petalproof::testing::data;
using petalproof::testing::problemsOf;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t enough = std::size_t{1} << 20;

std::string contents(const fs::path& path) {
  const auto bytes = readFile(path, enough, path.string());
  REQUIRE_MESSAGE(bytes, path.string());
  return *bytes.value;
}

std::vector<fs::path> filesIn(const fs::path& folder, const std::string& extension) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == extension) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

std::string expectedFor(const fs::path& file) { return contents(fs::path(file).replace_extension(".txt")); }

// The plan of data/csv, with this grid.
Result<LoadedPlan> planWithGrid(const fs::path& csv) {
  std::string text = contents(data / "csv/plan.toml");
  text.replace(text.find("GRID"), 4, csv.filename().string());
  return readPlan(text, "plan.toml", csv.parent_path());
}

}  // namespace

TEST_CASE("each bad plan is refused with its exact messages") {
  const auto plans = filesIn(data / "bad", ".toml");
  CHECK(plans.size() >= 60);
  for (const fs::path& file : plans) {
    INFO(file.filename().string());
    const auto result = readPlan(contents(file), file.filename().string(), file.parent_path());
    CHECK_FALSE(result);
    CHECK(problemsOf(result) == expectedFor(file));
  }
}

TEST_CASE("each bad grid is refused with its exact messages") {
  const auto grids = filesIn(data / "csv/bad", ".csv");
  CHECK(grids.size() >= 15);
  for (const fs::path& file : grids) {
    INFO(file.filename().string());
    const auto result = planWithGrid(file);
    CHECK_FALSE(result);
    CHECK(problemsOf(result) == expectedFor(file));
  }
}

TEST_CASE("grids as different spreadsheets write them load equal") {
  Grid<Cell> expected(3, 2);
  expected.at(0, 0) = {"sun", false};
  expected.at(1, 0) = {"drift", false};
  expected.at(2, 0) = {"sun", true};
  expected.at(1, 1) = {"big, \"wild\" one", false};
  expected.at(2, 1) = {"drift", false};
  const auto grids = filesIn(data / "csv/good", ".csv");
  CHECK(grids.size() >= 12);
  for (const fs::path& file : grids) {
    INFO(file.filename().string());
    const auto result = planWithGrid(file);
    INFO(problemsOf(result));
    REQUIRE(result);
    CHECK((result.value->plan.wall.grid == expected));
  }
}

TEST_CASE("the problems of a grid name its file from where the plan is") {
  std::string text = contents(data / "csv/plan.toml");
  text.replace(text.find("GRID"), 4, "bad/too_few_rows.csv");
  const auto result = readPlan(text, "walls/plan.toml", data / "csv");
  REQUIRE_FALSE(result);
  CHECK(problemsOf(result) == "walls/bad/too_few_rows.csv:1:1: the grid has 1 row, the wall has 2\n");
}
