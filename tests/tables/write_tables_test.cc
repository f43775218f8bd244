#include "engine/tables/write_tables.h"

#include "engine/plan/read_plan.h"
#include "engine/tables/tables.h"
#include "tests/tables/made_plan.h"
#include "tests/tables/summary.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::tables;

namespace {

Plan demo() {
  const auto loaded = loadPlan(std::filesystem::path(PETALPROOF_SOURCE_DIR) / "assets/plans/demo.toml");
  REQUIRE(loaded);
  return loaded.value->plan;
}

TablesInput tablesOf(const Plan& plan) {
  TablesInput input;
  input.grid = TableFile{"grid.csv", gridTable(plan)};
  input.blooms = TableFile{"blooms.csv", bloomTable(plan)};
  return input;
}

std::map<std::string, int> countsOf(const Plan& plan) {
  std::map<std::string, int> counts;
  for (const Bloom& bloom : plan.blooms) counts[bloom.name] = 0;
  for (const Cell& cell : plan.wall.grid.cells())
    if (const Layout* layout = findLayout(plan, cell.layout); cell.hasPanel() && layout)
      for (const Placement& placement : layout->blooms) ++counts[placement.bloom];
  return counts;
}

std::map<std::string, int> countsOf(const ArrangeRequest& request) {
  std::map<std::string, int> counts;
  for (const KindCount& count : request.counts) counts[count.bloom] += count.on_wall;
  return counts;
}

// As read back, less what a table leaves to be guessed.
Bloom withoutGuesses(Bloom read, const Bloom& written) {
  if (!written.depth) read.depth.reset();
  if (!written.petals) read.petals.reset();
  if (!written.plate) read.plate.reset();
  return read;
}

std::vector<std::string> problemsOf(const Result<TablesPlan>& made) {
  std::vector<std::string> all;
  for (const Problem& problem : made.problems) all.push_back(toString(problem));
  return all;
}

void checkSame(const Plan& plan, const Result<TablesPlan>& made) {
  CAPTURE(gridTable(plan));
  CAPTURE(bloomTable(plan));
  CAPTURE(problemsOf(made));
  REQUIRE(made);
  const ArrangeRequest& request = made.value->request;
  CHECK(request.units == plan.units);
  CHECK(request.wall.grid == plan.wall.grid);
  CHECK(countsOf(request) == countsOf(plan));
  REQUIRE(request.blooms.size() == plan.blooms.size());
  for (std::size_t k = 0; k < plan.blooms.size(); ++k) {
    CAPTURE(plan.blooms[k].name);
    CHECK(withoutGuesses(request.blooms[k], plan.blooms[k]) == plan.blooms[k]);
  }
  CHECK(made.value->title == plan.title);
}

Bloom bloom(const std::string& name, Shape shape, double diameter, Colour colour) {
  Bloom made;
  made.name = name;
  made.form = shape;
  made.diameter = {diameter};
  made.colours = {colour};
  return made;
}

Placement placed(const std::string& name) {
  Placement made;
  made.bloom = name;
  return made;
}

// Cells without their quotes.
std::vector<std::string> cellsOf(const std::string& table) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : table) {
    if (c == '"')
      quoted = !quoted;
    else if (!quoted && (c == ',' || c == '\r' || c == '\n'))
      cells.emplace_back();
    else
      cells.back() += c;
  }
  return cells;
}

// A number with a fraction, a date or a time: what another locale would read in another way.
bool dependsOnLocale(const std::string& cell) {
  const bool digit = std::any_of(cell.begin(), cell.end(), [](char c) { return c >= '0' && c <= '9'; });
  const bool other = std::any_of(cell.begin(), cell.end(), [](char c) {
    return std::isalpha(static_cast<unsigned char>(c)) || c == '#' || static_cast<unsigned char>(c) >= 0x80;
  });
  const bool whole = std::all_of(cell.begin(), cell.end(), [](char c) { return c >= '0' && c <= '9'; });
  return digit && !other && !whole;
}

}  // namespace

TEST_CASE("the demo's tables give its cells, counts and blooms again") {
  const Plan plan = demo();
  checkSame(plan, planFromTables(tablesOf(plan)));
}

TEST_CASE("tables of any plan give its cells, counts and blooms again") {
  for (std::uint64_t seed = 1; seed <= 600; ++seed) {
    CAPTURE(seed);
    const Plan plan = madePlan(seed);
    checkSame(plan, planFromTables(tablesOf(plan)));
  }
}

TEST_CASE("the bloom table counts the wall and adds up") {
  Plan plan;
  plan.title = "Two";
  Bloom sun = bloom("sun", Shape::dahlia, 16.5, {1, 2, 3});
  sun.card = {{"rust", 8}, {"foil", 0.5}};
  sun.minutes = 50;
  Bloom bud = bloom("bud", Shape::bud, 3, {4, 5, 6});
  bud.card = {{"", 0.5}};
  bud.filler = true;
  bud.stock = 9;
  plan.blooms = {sun, bud};
  plan.layouts = {{"day", {placed("sun"), placed("bud"), placed("bud")}}};
  plan.wall.columns = 3;
  plan.wall.rows = 1;
  plan.wall.grid = Grid<Cell>(3, 1, Cell{"day", false});
  plan.wall.grid.at(1, 0).upside_down = true;
  plan.fillers = {{placed("bud"), false}};
  CHECK(gridTable(plan) == "sep=,\r\nday,day upside down,day\r\n");
  // Three panels: 3 suns of 8.5 sheets and 50 minutes, 6 buds and one filler of half a sheet.
  CHECK(bloomTable(plan) ==
        "sep=,\r\nTwo\r\n"
        "Flower,Shape,Size,Colour,Qty,Placed as fillers,Filler,Stock,Card,Sheets for one,Sheets in all,"
        "Minutes for one,Minutes in all\r\n"
        "sun,dahlia,16 1/2 in,#010203,3,0,no,,rust (8) + foil (0.5),8.5 sheets,25.5 sheets,50,150\r\n"
        "bud,bud,3 in,#040506,6,1,yes,9,,0.5 sheets,3.5 sheets,,\r\n"
        "Total,,,,9,1,,,,,29,,150\r\n");
}

TEST_CASE("nothing in the tables means something else in another locale") {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    Plan plan = madePlan(seed);
    for (std::size_t k = 0; k < plan.blooms.size(); ++k) plan.blooms[k].name = "bloom " + std::to_string(k);
    const std::string table = bloomTable(plan);
    CAPTURE(table);
    CHECK(table.find("sep=,\r\n") != std::string::npos);
    for (const std::string& cell : cellsOf(table)) CHECK_MESSAGE(!dependsOnLocale(cell), cell);
  }
}

TEST_CASE("a mark for UTF-8 stands only where it is needed") {
  Plan plan = demo();
  CHECK(bloomTable(plan).starts_with("sep="));
  plan.blooms.front().label = "caf\u00e9";
  CHECK(bloomTable(plan).starts_with("\xEF\xBB\xBFsep="));
}
