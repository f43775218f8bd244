#include "engine/tables/internal/bloom_kinds.h"

#include "engine/base/length_text.h"
#include "engine/base/nearest_name.h"
#include "engine/plan/findings.h"
#include "engine/plan/read_plan.h"
#include "engine/plan/shape_names.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <set>

namespace petalproof::tables {
namespace {

// Common practice, no source.
constexpr double leaf_width_share = 0.4;  // of the length
constexpr double leaf_fill = 0.6;         // of length times width

using Rows = std::vector<BloomRow*>;

bool sameBloom(const BloomRow& a, const BloomRow& b) {
  plan::Bloom renamed = b.bloom;
  renamed.name = a.bloom.name;
  return a.bloom == renamed;
}

std::string sizeAdded(const BloomRow& row, Units units) {
  return fmt::format("{} {}", row.written_name, tapeText(toMillimetres(row.bloom.diameter, units), units));
}

std::string colourAdded(const BloomRow& row) {
  return row.written_colour.empty() ? row.written_name
                                    : fmt::format("{} {}", row.written_name, row.written_colour);
}

bool allDiffer(const Rows& rows, const std::function<std::string(const BloomRow&)>& name,
               const std::set<std::string>& taken) {
  std::set<std::string> names;
  for (const BloomRow* row : rows)
    if (!names.insert(lowerCase(name(*row))).second || taken.contains(lowerCase(name(*row)))) return false;
  return true;
}

// A row of each kind of bloom in the group.
Rows kindsOf(const Rows& group) {
  Rows kinds;
  for (BloomRow* row : group)
    if (std::none_of(kinds.begin(), kinds.end(),
                     [&](const BloomRow* kind) { return sameBloom(*kind, *row); }))
      kinds.push_back(row);
  return kinds;
}

void rename(const Rows& group, const Rows& kinds, std::set<std::string>& taken, Units units) {
  const auto by_size = [&](const BloomRow& row) { return sizeAdded(row, units); };
  const auto by_colour = [](const BloomRow& row) { return colourAdded(row); };
  const bool sizes = allDiffer(kinds, by_size, taken);
  const bool colours = !sizes && allDiffer(kinds, by_colour, taken);
  std::vector<std::string> names;
  int number = 1;
  for (const BloomRow* kind : kinds) {
    std::string name = sizes ? by_size(*kind) : colours ? by_colour(*kind) : kind->written_name;
    while (taken.contains(lowerCase(name))) name = fmt::format("{} {}", kind->written_name, ++number);
    taken.insert(lowerCase(name));
    names.push_back(name);
  }
  for (BloomRow* row : group) {
    const auto kind = std::find_if(kinds.begin(), kinds.end(),
                                   [&](const BloomRow* candidate) { return sameBloom(*candidate, *row); });
    const std::string& name = names[static_cast<std::size_t>(kind - kinds.begin())];
    if (name == row->bloom.name) continue;
    row->guess("name", name, fmt::format("several rows are called {}", plan::inQuotes(row->written_name)));
  }
  for (BloomRow* row : group)
    for (const Guess& guess : row->guesses)
      if (guess.key == "name") row->bloom.name = guess.value;
}

// The number of cells of each layout, by its name in lower case.
std::map<std::string, int> cellsOf(const Grid<plan::Cell>& grid) {
  std::map<std::string, int> cells;
  for (const plan::Cell& cell : grid.cells())
    if (cell.hasPanel()) ++cells[lowerCase(cell.layout)];
  return cells;
}

std::string spellingIn(const Grid<plan::Cell>& grid, const std::string& layout) {
  for (const plan::Cell& cell : grid.cells())
    if (lowerCase(cell.layout) == lowerCase(layout)) return cell.layout;
  return layout;
}

class Counter {
 public:
  Counter(TablesPlan& plan, TableFindings& findings)
      : plan_(&plan), findings_(&findings), cells_(cellsOf(plan.request.wall.grid)) {
    for (const auto& [layout, count] : cells_) panels_ += count;
  }

  void count(const BloomRow& row) {
    const auto layout = cells_.find(lowerCase(row.layout));
    if (!row.layout.empty() && layout == cells_.end()) return unknownLayout(row);
    const int times = !row.per_panel ? 1 : row.layout.empty() ? panels_ : layout->second;
    KindCount counted{row.bloom.name, 0,
                      row.layout.empty() ? "" : spellingIn(plan_->request.wall.grid, row.layout)};
    const long long on_wall = static_cast<long long>(row.count) * times;
    total_ += on_wall;
    counted.on_wall = static_cast<int>(std::min<long long>(on_wall, plan::PlanLimits{}.blooms_on_wall));
    auto& counts = plan_->request.counts;
    const auto same = std::find_if(counts.begin(), counts.end(), [&](const KindCount& known) {
      return known.bloom == counted.bloom && known.layout == counted.layout;
    });
    if (same == counts.end()) return counts.push_back(std::move(counted));
    same->on_wall += counted.on_wall;
    if (row.layout.empty())
      findings_->remark(
          row.place, fmt::format("the same bloom as {} above: added to it", plan::inQuotes(row.bloom.name)));
  }

  void checkTotal(const Place& place) const {
    const int limit = plan::PlanLimits{}.blooms_on_wall;
    if (total_ > limit)
      findings_->problem(place,
                         fmt::format("{} blooms on the wall are more than the limit of {}", total_, limit));
  }

 private:
  void unknownLayout(const BloomRow& row) {
    std::vector<std::string> known;
    for (const auto& [layout, count] : cells_) known.push_back(spellingIn(plan_->request.wall.grid, layout));
    findings_->problem(row.place, fmt::format("no cell of the grid has the layout {}{}",
                                              plan::inQuotes(row.layout), didYouMean(row.layout, known)));
  }

  TablesPlan* plan_;
  TableFindings* findings_;
  std::map<std::string, int> cells_;
  int panels_ = 0;
  long long total_ = 0;
};

}  // namespace

void nameApart(std::vector<BloomRow>& rows, Units units) {
  std::map<std::string, Rows> groups;
  for (BloomRow& row : rows) groups[lowerCase(row.bloom.name)].push_back(&row);
  std::set<std::string> taken;
  for (const auto& [name, group] : groups)
    if (kindsOf(group).size() == 1) taken.insert(name);
  for (const auto& [name, group] : groups) {
    const Rows kinds = kindsOf(group);
    if (kinds.size() > 1) rename(group, kinds, taken, units);
  }
}

std::vector<std::string> layoutsNamed(const std::vector<BloomRow>& rows) {
  std::vector<std::string> names;
  for (const BloomRow& row : rows) {
    const bool known = std::any_of(names.begin(), names.end(), [&](const std::string& name) {
      return lowerCase(name) == lowerCase(row.layout);
    });
    if (!row.layout.empty() && !known) names.push_back(row.layout);
  }
  return names;
}

void addKinds(const std::vector<BloomRow>& rows, TablesPlan& plan, TableFindings& findings) {
  Counter counter(plan, findings);
  std::set<std::string> added;
  for (const BloomRow& row : rows) {
    counter.count(row);
    if (!added.insert(row.bloom.name).second) continue;
    plan.request.blooms.push_back(row.bloom);
    for (Guess guess : row.guesses) {
      guess.name = row.bloom.name;
      plan.guesses.push_back(std::move(guess));
    }
  }
  counter.checkTotal(rows.empty() ? Place{} : Place{rows.front().place.file});
}

double areaOf(const BloomRow& row, Units units) {
  const double diameter = toMillimetres(row.bloom.diameter, units);
  const auto* shape = std::get_if<plan::Shape>(&row.bloom.form);
  if (!shape || !plan::takesWidth(*shape)) return row.count * pi / 4 * diameter * diameter;
  const double width = row.bloom.width ? toMillimetres(*row.bloom.width, units) : leaf_width_share * diameter;
  return row.count * leaf_fill * diameter * width;
}

}  // namespace petalproof::tables
