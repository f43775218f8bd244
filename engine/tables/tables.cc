#include "engine/tables/tables.h"

#include "engine/base/length_text.h"
#include "engine/plan/findings.h"
#include "engine/plan/plan_defaults.h"
#include "engine/plan/ranges.h"
#include "engine/plan/utf8.h"
#include "engine/tables/internal/bloom_guesses.h"
#include "engine/tables/internal/bloom_kinds.h"
#include "engine/tables/internal/grid_table.h"
#include "engine/tables/internal/recipe.h"
#include "engine/tables/internal/table_values.h"
#include "engine/tables/wall_size.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <tuple>

namespace petalproof::tables {
namespace {

void sortProblems(std::vector<Problem>& problems) {
  std::stable_sort(problems.begin(), problems.end(), [](const Problem& a, const Problem& b) {
    if (a.place.file != b.place.file) return false;  // files stay in the order they were read
    return std::tie(a.place.line, a.place.column) < std::tie(b.place.line, b.place.column);
  });
}

// Makes the plan step by step; each step adds to the plan or to the problems.
class Maker {
 public:
  explicit Maker(const TablesInput& input) : input_(input) {}

  Result<TablesPlan> make() {
    readSheets();
    settleUnits();
    settlePanel();
    readGrid();
    readBlooms();
    if (findings_.problems.empty()) settleWall();
    if (findings_.problems.empty()) settleKinds();
    settleTitle();
    sortProblems(findings_.problems);
    if (!findings_.problems.empty())
      return {std::nullopt, std::move(findings_.problems), std::move(findings_.remarks)};
    return Result<TablesPlan>::success(std::move(plan_), std::move(findings_.remarks));
  }

 private:
  plan::Wall& wall() { return plan_.request.wall; }
  Units units() const { return plan_.request.units; }

  void guess(std::string section, std::string key, std::string value, std::string why) {
    plan_.guesses.push_back({std::move(section), "", std::move(key), std::move(value), std::move(why), {}});
  }

  void readSheets() {
    plan_.request.seed = input_.seed;
    if (input_.grid) grid_ = findings_.take(readSheet(*input_.grid));
    if (input_.blooms) blooms_ = findings_.take(readSheet(*input_.blooms));
    if (blooms_) columns_ = findings_.take(findColumns(*blooms_, input_.recipe.empty()));
    if (!input_.recipe.empty()) recipe_ = recipeFromText(input_.recipe, {input_.words.recipe}, findings_);
    if (!input_.blooms && input_.recipe.empty())
      findings_.problem({}, "which blooms hang on the panels? " + input_.words.which_blooms);
  }

  void settleUnits() {
    if (input_.units) return void(plan_.request.units = *input_.units);
    const auto by_option = [](const std::string& text) { return unitsNamed(text); };
    const auto by_panel = by_option(input_.panel);
    const auto by_size = by_option(input_.size);
    const auto by_table = columns_ ? unitsOfSizes(*blooms_, *columns_) : std::nullopt;
    plan_.request.units = by_panel ? *by_panel : by_size ? *by_size : by_table.value_or(Units::inch);
    guess("", "units", std::string(unitName(units())),
          by_panel   ? "as in " + input_.words.panel
          : by_size  ? "as in " + input_.words.size
          : by_table ? "as the sizes in " + blooms_->file
                     : "no unit is given anywhere" + input_.words.other_units);
  }

  std::optional<plan::Size> sizeFrom(const std::string& text, const std::string& option) {
    const auto size = widthAndHeight(text, units());
    if (!size)
      findings_.problem({option},
                        fmt::format("{} is no width and height; write them as 24x20, from 1 mm to 100 m",
                                    plan::inQuotes(text)));
    return size;
  }

  void settlePanel() {
    wall() = plan::defaultWall(units());
    std::optional<plan::Size> panel;
    if (!input_.panel.empty()) panel = sizeFrom(input_.panel, input_.words.panel);
    wall().panel = panel.value_or(usualPanel(units()));
    if (input_.panel.empty())
      guess("wall", "panel",
            fmt::format("{} x {} {}", plan::numberText(wall().panel.width.value),
                        plan::numberText(wall().panel.height.value), unitName(units())),
            "a usual board" + input_.words.other_panel);
    if (!input_.size.empty()) asked_ = sizeFrom(input_.size, input_.words.size);
  }

  void readGrid() {
    if (!grid_) return;
    if (asked_)
      findings_.problem({input_.words.size},
                        fmt::format("the grid says how many panels there are; leave {} or {} out",
                                    input_.words.size, input_.words.grid));
    GridTable table = readGridTable(*grid_, input_.columns, input_.rows, findings_);
    title_ = table.title;
    wall().grid = std::move(table.grid);
    wall().columns = wall().grid.columns();
    wall().rows = wall().grid.rows();
  }

  void readBlooms() {
    const BloomContext context{units(), wall().panel, input_.recipe.empty()};
    if (columns_) {
      BloomTable table = readBloomTable(*blooms_, *columns_, context, findings_);
      rows_ = std::move(table.rows);
      if (title_.empty()) title_ = table.title;
      if (!recipe_.empty()) applyRecipe(recipe_, rows_, findings_);
      remarkOnLayoutCounts();
    } else if (!input_.blooms) {
      rows_ = bloomsOfRecipe(recipe_, context, findings_);
    }
    chooseAssorted(rows_);
  }

  void remarkOnLayoutCounts() {
    const BloomColumn* count = columns_->find(Meaning::count);
    const bool ambiguous = count && columns_->find(Meaning::layout) && !count->heading.per_panel &&
                           std::any_of(rows_.begin(), rows_.end(), [](const BloomRow& row) {
                             return !row.layout.empty() && !row.per_panel;
                           });
    if (ambiguous)
      findings_.remark(
          blooms_->at(blooms_->rows[columns_->heading_row], count->number),
          "the numbers are read as those on the whole wall; head the column \"Qty per panel\" if "
          "each panel has so many");
  }

  void settleWall() {
    if (!grid_) wall().grid = layoutsInTurn(panelCount(), layoutsNamed(rows_));
    wall().columns = wall().grid.columns();
    wall().rows = wall().grid.rows();
    if (!findings_.problems.empty()) return;
    if (!grid_) guess("wall", "grid", "layouts in turn", "no grid was given");
    plan_.comes_to = whatItComesTo(wall(), asked_, units());
    const auto& cells = wall().grid.cells();
    if (std::none_of(cells.begin(), cells.end(), [](const plan::Cell& cell) { return cell.hasPanel(); }))
      findings_.problem({grid_->file}, "no panel hangs in any cell");
  }

  // The panels of a wall without a grid table.
  PanelCount panelCount() {
    PanelCount count{input_.columns.value_or(0), input_.rows.value_or(0)};
    if (count.columns > 0 && count.rows > 0) return count;
    const PanelCount found = asked_ ? panelsNearest(*asked_, wall().panel) : panelsByArea();
    if (count.columns == 0) count.columns = found.columns;
    if (count.rows == 0) count.rows = found.rows;
    return count;
  }

  PanelCount panelsByArea() {
    const bool per_panel =
        std::any_of(rows_.begin(), rows_.end(), [](const BloomRow& row) { return row.per_panel; });
    if (per_panel) {
      findings_.problem({}, "how large is the wall? " + input_.words.how_large);
      return {1, 1};
    }
    const double area =
        std::accumulate(rows_.begin(), rows_.end(), 0.0,
                        [&](double sum, const BloomRow& row) { return sum + areaOf(row, units()); });
    const PanelCount found = panelsForArea(area, wall().panel, units());
    if (!input_.columns)
      guess("wall", "columns", std::to_string(found.columns), "as many as the blooms fill");
    if (!input_.rows) guess("wall", "rows", std::to_string(found.rows), "as many as the blooms fill");
    return found;
  }

  void settleKinds() {
    nameApart(rows_, units());
    for (const BloomRow& row : rows_)
      if (const std::size_t length = plan::characterCount(row.bloom.name); length > plan::longest_plan_name)
        findings_.problem(row.place, fmt::format("the bloom's name would have {} characters, {} are the most",
                                                 length, plan::longest_plan_name));
    addKinds(rows_, plan_, findings_);
    const auto& counts = plan_.request.counts;
    if (std::all_of(counts.begin(), counts.end(), [](const KindCount& count) { return count.on_wall == 0; }))
      findings_.problem(rows_.empty() ? Place{} : Place{rows_.front().place.file},
                        "no bloom hangs on the wall: every number is 0, or belongs to a filler");
  }

  void settleTitle() {
    if (plan::characterCount(title_) > plan::longest_plan_title)
      title_.clear();  // a line of text is no title
    if (const std::size_t length = plan::characterCount(input_.title); length > plan::longest_plan_title)
      findings_.problem(
          {}, fmt::format("the title has {} characters, {} are the most", length, plan::longest_plan_title));
    plan_.title = !input_.title.empty() ? input_.title : title_.empty() ? "My wall" : title_;
    if (!input_.title.empty()) return;
    const Guess guess{
        "",
        "",
        "title",
        plan_.title,
        title_.empty() ? "none is given" + input_.words.other_title : "the line above the table",
        {}};
    plan_.guesses.insert(plan_.guesses.begin(), guess);
  }

  TablesInput input_;
  TableFindings findings_;
  TablesPlan plan_;
  std::string title_;
  std::optional<Sheet> grid_;
  std::optional<Sheet> blooms_;
  std::optional<BloomColumns> columns_;
  std::vector<RecipePart> recipe_;
  std::vector<BloomRow> rows_;
  std::optional<plan::Size> asked_;
};

}  // namespace

Result<TablesPlan> planFromTables(const TablesInput& input) { return Maker(input).make(); }

plan::Plan planWith(const TablesPlan& tables, Grid<plan::Cell> grid, std::vector<plan::Layout> layouts) {
  plan::Plan plan;
  plan.title = tables.title;
  plan.units = tables.request.units;
  plan.seed = tables.request.seed;
  plan.wall = tables.request.wall;
  plan.wall.grid = std::move(grid);
  plan.blooms = tables.request.blooms;
  plan.layouts = std::move(layouts);
  return plan;
}

}  // namespace petalproof::tables
