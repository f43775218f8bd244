#include "engine/plan/read_plan.h"

#include "engine/base/file.h"
#include "engine/plan/internal/nesting.h"
#include "engine/plan/internal/off_the_board.h"
#include "engine/plan/internal/sections.h"
#include "engine/plan/internal/syntax_error.h"
#include "engine/plan/plan_defaults.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <limits>
#include <map>

namespace petalproof::plan {
namespace {

constexpr int format_known = 1;
constexpr NumberRange variation_range{0, 5};
constexpr NumberRange share_range{0, 1};
constexpr NumberRange hand_turn_range{0, 180};
// Black against white is 100.
constexpr NumberRange difference_range{0, 1000, true};
constexpr std::string_view odd_words = "two shares of the wall's pieces of paper, such as [0.75, 0.9]";
constexpr WholeRange any_whole{std::numeric_limits<long long>::min(), std::numeric_limits<long long>::max()};
constexpr WholeRange seed_range{0, std::numeric_limits<long long>::max()};

// False where the rest of the plan isn't ours to read.
bool readFormat(TableReader& root) {
  const Field field = root.needed("format", "format = 1 as its first line");
  const auto format = field.longWhole(any_whole);
  if (!format || *format == format_known) return true;
  field.wrong(fmt::format("this program reads plans of format {}, not {}", format_known, *format));
  return false;
}

Units readUnits(TableReader& root) {
  const auto choice = root.needed("units", "units = \"in\", \"cm\" or \"mm\", for every length in the plan")
                          .choice("unit", {"in", "cm", "mm"});
  constexpr Units all[] = {Units::inch, Units::centimetre, Units::millimetre};
  return all[choice.value_or(0)];
}

void readHeader(TableReader& root, Plan& plan) {
  assign(plan.title, root.needed("title", "a title, such as title = \"My wall\"").text());
  plan.units = readUnits(root);
  root.setUnits(plan.units);
  if (const auto seed = root.field("seed").longWhole(seed_range))
    plan.seed = static_cast<std::uint64_t>(*seed);
  assign(plan.variation, root.field("variation").number(variation_range));
}

// Blooms in a cell's layout, by the layout's name.
std::int64_t bloomsOnWall(const Plan& plan) {
  std::map<std::string_view, std::int64_t> in_layout;
  for (const Layout& layout : plan.layouts) in_layout[layout.name] = std::ssize(layout.blooms);
  std::int64_t count = std::ssize(plan.fillers);
  for (const Cell& cell : plan.wall.grid.cells()) count += cell.hasPanel() ? in_layout[cell.layout] : 0;
  return count;
}

void checkBloomCount(Findings& findings, const LoadedPlan& loaded, const PlanLimits& limits) {
  const std::int64_t count = bloomsOnWall(loaded.plan);
  if (count > limits.blooms_on_wall)
    findings.problem(loaded.places.wall, fmt::format("{} blooms hang on the wall, more than the limit of {}",
                                                     count, limits.blooms_on_wall));
}

void readSections(TableReader& root, LoadedPlan& loaded, const PlanLimits& limits) {
  Plan& plan = loaded.plan;
  PlanPlaces& places = loaded.places;
  Names bloom_names;
  Names layout_names;
  const Field wall = root.needed("wall", "a section [wall] with columns, rows, panel and grid");
  plan.blooms = readBlooms(root.field("bloom"), bloom_names, places.blooms);
  plan.layouts = readLayouts(root.field("layout"), bloom_names, layout_names, places.placements);
  if (auto table = wall.table("the wall", "a section [wall], in one pair of brackets"))
    plan.wall = readWall(std::move(*table), plan.units, {layout_names, loaded.directory, limits}, places);
  plan.fillers = readFillers(root.field("filler"), bloom_names, places.fillers);
  plan.shots = readShots(root.field("shot"), plan.units, limits, places);
  if (auto hands = root.field("hands").table("[hands]", "a section [hands], in one pair of brackets"))
    plan.hands = readHands(std::move(*hands), plan.units);
  if (auto reading = root.field("reading").table("[reading]", "a section [reading], in one pair of brackets"))
    plan.reading = readThresholds(std::move(*reading));
}

Result<LoadedPlan> readTable(const toml::table& table, LoadedPlan loaded, const PlanLimits& limits) {
  Findings findings(loaded.file);
  TableReader root(findings, Units::inch, table, "the plan");
  if (readFormat(root)) {
    readHeader(root, loaded.plan);
    readSections(root, loaded, limits);
    root.finish();
    checkBloomCount(findings, loaded, limits);
  }
  if (findings.anyProblem()) return Result<LoadedPlan>::failure(findings.takeProblems());
  warnOfBloomsOffTheBoard(loaded, findings);
  return Result<LoadedPlan>::success(std::move(loaded), findings.takeWarnings());
}

}  // namespace

Hands readHands(TableReader table, Units units) {
  Hands hands = defaultHands(units);
  assign(hands.bloom_size, table.field("bloom_size").number(share_range));
  assign(hands.bloom_depth, table.field("bloom_depth").number(share_range));
  assign(hands.place, table.field("place").length(LengthRange::zeroOrMore));
  assign(hands.turn_deg, table.field("turn").number(hand_turn_range, "degrees"));
  assign(hands.hang, table.field("hang").length(LengthRange::zeroOrMore));
  assign(hands.step, table.field("step").length(LengthRange::zeroOrMore));
  table.finish();
  return hands;
}

namespace {

void readOdd(const Field& odd, ReadingThresholds& thresholds) {
  if (!odd.given()) return;
  const auto ends = odd.listOf(2, odd_words);
  if (!ends) return;
  const auto faint = ends->front().number(share_range);
  const auto shows = ends->back().number(share_range);
  if (!faint || !shows) return;
  if (*faint > *shows) {
    odd.wrong(fmt::format("\"odd\" has its larger share first; write [{}, {}]", numberText(*shows),
                          numberText(*faint)));
    return;
  }
  thresholds.odd_faint = *faint;
  thresholds.odd_shows = *shows;
}

// Plans written before holes were held against pieces of paper.
void warnOfShows(const Field& shows, Findings& findings) {
  if (!shows.given() || !shows.number(difference_range)) return;
  findings.warning(shows.place(),
                   "\"shows\" is no longer used: whether a hole shows depends on how odd it is; "
                   "\"odd\" says from when, such as [0.75, 0.9]");
}

}  // namespace

ReadingThresholds readThresholds(TableReader table) {
  ReadingThresholds thresholds;
  assign(thresholds.faint, table.field("faint").number(difference_range));
  readOdd(table.field("odd"), thresholds);
  warnOfShows(table.field("shows"), table.findings());
  table.finish();
  return thresholds;
}

Result<LoadedPlan> readPlan(std::string_view text, const std::string& file,
                            const std::filesystem::path& directory, const PlanLimits& limits) {
  if (text.size() > limits.plan_bytes)
    return Result<LoadedPlan>::failure(
        Place{file}, fmt::format("has {} bytes, more than the limit of {}", text.size(), limits.plan_bytes));
  if (auto deep = tooDeep(text, file)) return Result<LoadedPlan>::failure({std::move(*deep)});
  const toml::parse_result parsed = toml::parse(text);
  if (!parsed) return Result<LoadedPlan>::failure({syntaxProblem(parsed.error(), text, file)});
  return readTable(parsed.table(), LoadedPlan{{}, {}, file, directory}, limits);
}

Result<LoadedPlan> loadPlan(const std::filesystem::path& path, const PlanLimits& limits) {
  const auto bytes = readFile(path, limits.plan_bytes, path.string());
  if (!bytes) return Result<LoadedPlan>::failure(bytes.problems);
  return readPlan(*bytes.value, path.string(), path.parent_path(), limits);
}

}  // namespace petalproof::plan
