// The demo's tables, opened in LibreOffice Calc 7.4, saved as .ods and exported again as CSV in several ways
// (tests/tables/exports, of the demo when it had twelve kinds); where soffice is there, done anew.
#include "engine/plan/read_plan.h"
#include "engine/tables/tables.h"
#include "engine/tables/write_tables.h"
#include "tests/tables/summary.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cstdlib>
#include <filesystem>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::tables;
namespace fs = std::filesystem;

namespace {

Result<TablesPlan> readFrom(const fs::path& folder) {
  TablesInput input;
  input.grid = TableFile{"grid.csv", bytesOf(folder / "grid.csv")};
  input.blooms = TableFile{"blooms.csv", bytesOf(folder / "blooms.csv")};
  return planFromTables(input);
}

void checkEqual(const Result<TablesPlan>& a, const Result<TablesPlan>& b) {
  CAPTURE(summaryOf(a));
  CAPTURE(summaryOf(b));
  REQUIRE(a);
  REQUIRE(b);
  CHECK(a.value->title == b.value->title);
  CHECK(a.value->request.wall == b.value->request.wall);
  CHECK(a.value->request.blooms == b.value->request.blooms);
  CHECK(a.value->request.counts == b.value->request.counts);
}

fs::path exportsFolder() { return fs::path(PETALPROOF_SOURCE_DIR) / "tests/tables/exports"; }

bool runs(const std::string& command) { return std::system((command + " >/dev/null 2>&1").c_str()) == 0; }

// Each export with its field separator, text mark and character set, as the filter's options name them.
constexpr const char* comma_options = "44,34,76,1,,0,false,true";
constexpr const char* german_options = "59,34,76,1,,1031,true,true";

bool convert(const fs::path& home, const std::string& filters, const fs::path& from, const fs::path& to) {
  return runs(
      fmt::format("timeout 120 soffice --headless '-env:UserInstallation=file://{}' {} --outdir '{}' '{}'",
                  (home / "profile").string(), filters, to.string(), from.string()));
}

}  // namespace

TEST_CASE("what a spreadsheet exports of the demo's tables reads back equal") {
  const auto written = readFrom(exportsFolder() / "written");
  for (const char* way : {"comma", "semicolon", "tab-utf16", "windows-1252"}) {
    CAPTURE(way);
    checkEqual(readFrom(exportsFolder() / way), written);
  }
}

TEST_CASE("the demo's tables go through a spreadsheet where there is one") {
  if (!runs("command -v soffice")) return;
  const auto loaded = loadPlan(fs::path(PETALPROOF_SOURCE_DIR) / "assets/plans/demo.toml");
  REQUIRE(loaded);
  std::string name = (fs::temp_directory_path() / "petalproof-tables-XXXXXX").string();
  REQUIRE(mkdtemp(name.data()) != nullptr);
  const fs::path home(name);
  writeBytes(home / "written/grid.csv", gridTable(loaded.value->plan));
  writeBytes(home / "written/blooms.csv", bloomTable(loaded.value->plan));
  bool done = true;
  for (const char* table : {"grid", "blooms"}) {
    done = done && convert(home, "'--infilter=CSV:44,34,76' --convert-to ods",
                           home / fmt::format("written/{}.csv", table), home / "ods");
    for (const auto& [way, options] :
         {std::pair("comma", comma_options), std::pair("german", german_options)})
      done = done && convert(home, fmt::format("--convert-to 'csv:Text - txt - csv (StarCalc):{}'", options),
                             home / fmt::format("ods/{}.ods", table), home / way);
  }
  // A spreadsheet that doesn't start says nothing about the tables.
  if (done && fs::exists(home / "german/blooms.csv")) {
    const auto written = readFrom(home / "written");
    checkEqual(readFrom(home / "comma"), written);
    checkEqual(readFrom(home / "german"), written);
  }
  fs::remove_all(home);
}
