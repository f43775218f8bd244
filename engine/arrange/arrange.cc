#include "engine/arrange/arrange.h"

#include "engine/arrange/internal/arrange_alike.h"
#include "engine/arrange/internal/arrange_anneal.h"
#include "engine/arrange/internal/arrange_deal.h"
#include "engine/base/hash.h"
#include "engine/plan/plan_defaults.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <utility>

namespace petalproof::arrange {
namespace {

constexpr plan::UsualLength usual_step{0.25, 0.5, 5.0};  // of places on usual panels: easy to read off a tape
constexpr double least_steps = 40;     // on a panel's shorter side, or places get too coarse
constexpr int largest_jitter_deg = 4;  // so that turns don't look counted

constexpr std::uint64_t most_attempts = 3;  // each takes the time of a whole search
constexpr double most_alike = 0.5;          // share of blooms that two layouts may have in the same place

// The step of places in the plan's unit: halved until a panel has enough of them.
double stepOf(const tables::ArrangeRequest& request) {
  double step = usual_step.in(request.units).value;
  const double side = std::min(request.wall.panel.width.value, request.wall.panel.height.value);
  while (side < least_steps * step) step /= 2;
  return step;
}

std::vector<int> usedKinds(const Deal& deal) {
  std::vector<int> used;
  for (const DealtLayout& layout : deal.layouts)
    used.insert(used.end(), layout.kinds.begin(), layout.kinds.end());
  std::sort(used.begin(), used.end());
  used.erase(std::unique(used.begin(), used.end()), used.end());
  return used;
}

// The raster's cell: fine enough for the bloom of median size, coarse enough that a wall takes seconds.
double rasterCell(const tables::ArrangeRequest& request, const Deal& deal) {
  constexpr double cells_of_median = 14;  // across the median bloom
  constexpr double most_cells = 90;       // along a panel
  constexpr double least_cells = 40;
  const double per_unit = millimetresPer(request.units);
  const plan::Size& panel = request.wall.panel;
  const double side = std::sqrt(panel.width.value * panel.height.value) * per_unit;
  std::vector<double> sizes;
  for (const DealtLayout& layout : deal.layouts)
    for (const int kind : layout.kinds)
      sizes.push_back(request.blooms[static_cast<std::size_t>(kind)].diameter.value * per_unit);
  if (sizes.empty()) return side / least_cells;
  std::nth_element(sizes.begin(), sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2), sizes.end());
  return std::clamp(sizes[sizes.size() / 2] / cells_of_median, side / most_cells, side / least_cells);
}

// Sets the layout's heart 6 to 14 % of the panel off its middle, for every other layout along the other
// diagonal, so that neighbours differ either way up.
void setHeart(ArrangeLayout& layout, const WallModel& wall, std::size_t index, std::uint64_t hash) {
  const double x = 0.06 + 0.08 * unitFromHash(mixed(hash ^ 1));
  const double y = 0.06 + 0.08 * unitFromHash(mixed(hash ^ 2));
  const double side = hash & 1 ? 1 : -1;
  layout.heart_x = static_cast<float>(x * side) * wall.panel_width;
  layout.heart_y = static_cast<float>(y * side) * wall.panel_height * (index % 2 == 0 ? 1.0F : -1.0F);
}

class Arranger {
 public:
  explicit Arranger(const tables::ArrangeRequest& request)
      : request_(request), deal_(dealBlooms(request)), kinds_(usedKinds(deal_)) {}

  Arrangement arranged() {
    const ArrangeTask task = placed();
    Arrangement result;
    for (std::size_t k = 0; k < deal_.layouts.size(); ++k) result.layouts.push_back(written(task, k));
    result.grid = deal_.grid;
    result.dealt = deal_.words;
    result.left_out = left_out_;
    measureBareBoard(task, result);
    return result;
  }

 private:
  // The wall and its blooms on a raster, without places. `turns`: the turns needed of each kind, as
  // Copies::turns; all turns if empty.
  ArrangeTask emptyTask(double cell_mm, Copies copies, const std::vector<std::uint32_t>& turns = {}) const {
    ArrangeTask task;
    std::vector<std::string> names;
    for (const DealtLayout& layout : deal_.layouts) names.push_back(layout.name);
    plan::Wall wall = request_.wall;
    wall.grid = deal_.grid;
    task.wall = wallModelOf(wall, request_.units, names, cell_mm, request_.seed);
    for (const int kind : kinds_) {
      const plan::Bloom& bloom = request_.blooms[static_cast<std::size_t>(kind)];
      if (!turns.empty()) copies.turns = turns[task.kinds.size()];
      task.kinds.push_back(arrangeKindOf(bloom, request_.units, cell_mm, copies));
      task.kinds.back().prominence =
          task.kinds.back().diameter / std::min(task.wall.panel_width, task.wall.panel_height);
      task.largest_radius = std::max(task.largest_radius, task.kinds.back().radius);
    }
    task.care = request_.care;
    task.step = static_cast<float>(stepOf(request_) * millimetresPer(request_.units));
    return task;
  }

  ArrangeTask placed() {
    // Board counts as covered where all of four copies cover it: the chance of a single copy must not fill
    // it.
    constexpr Copies searched{4, 4, 1};
    ArrangeTask task = emptyTask(rasterCell(request_, deal_), searched);
    for (std::size_t k = 0; k < deal_.layouts.size(); ++k) task.layouts.push_back(itemsOf(task, k));
    return placedUnlike(task);
  }

  // The turns that the blooms of each kind have, on panels hung either way up, as Copies::turns.
  static std::vector<std::uint32_t> turnsOf(const ArrangeTask& task) {
    std::vector<std::uint32_t> turns(task.kinds.size(), 0);
    for (const ArrangeLayout& layout : task.layouts)
      for (const ArrangeItem& item : layout.items)
        turns[static_cast<std::size_t>(item.kind)] |=
            1U << item.spot.turn | 1U << (item.spot.turn + turn_steps / 2) % turn_steps;
    return turns;
  }

  // Measures on a finer raster, with a copy of each bloom that the search didn't fit to.
  void measureBareBoard(const ArrangeTask& placed, Arrangement& arrangement) const {
    constexpr Copies unseen{1, 1, 2};
    ArrangeTask task = emptyTask(rasterCell(request_, deal_) / 2, unseen, turnsOf(placed));
    task.layouts = placed.layouts;
    arrangement.bare_share = bareShare(task);
    arrangement.paper_share = paperShare(task);
  }

  // Layouts with the same blooms between the same neighbours may come out alike: then the search runs again
  // with another seed.
  ArrangeTask placedUnlike(const ArrangeTask& task) {
    ArrangeTask best;
    std::vector<LeftOut> best_left_out;
    double least = 2;  // above any alikeness
    const std::uint64_t attempts = request_.care < 1 ? 1 : most_attempts;
    for (std::uint64_t attempt = 0; attempt < attempts && least > most_alike; ++attempt) {
      ArrangeTask tried = task;
      constexpr std::uint64_t seed_step =
          1'000'003;  // a prime, so that seeds of neighbouring walls don't meet
      std::vector<LeftOut> left_out = placeItems(tried, request_.seed + attempt * seed_step);
      const double alike = alikeness(tried);
      if (alike >= least) continue;
      least = alike;
      best = std::move(tried);
      best_left_out = std::move(left_out);
    }
    tellLeftOut(best_left_out);
    return best;
  }

  std::ptrdiff_t panelsOf(std::size_t layout) const {
    const auto& cells = deal_.grid.cells();
    return std::count_if(cells.begin(), cells.end(),
                         [&](const plan::Cell& c) { return c.layout == deal_.layouts[layout].name; });
  }

  double paperShare(const ArrangeTask& task) const {
    double paper = 0;
    double panels = 0;
    for (std::size_t k = 0; k < deal_.layouts.size(); ++k) {
      const auto hung = static_cast<double>(panelsOf(k));
      panels += hung;
      for (const ArrangeItem& item : task.layouts[k].items)
        paper += hung * task.kinds[static_cast<std::size_t>(item.kind)].area;
    }
    return paper / std::max(1.0, panels) / (task.wall.panel_width * task.wall.panel_height);
  }

  ArrangeLayout itemsOf(const ArrangeTask& task, std::size_t index) const {
    ArrangeLayout layout;
    for (const int kind : deal_.layouts[index].kinds)
      layout.items.push_back(
          {static_cast<int>(std::lower_bound(kinds_.begin(), kinds_.end(), kind) - kinds_.begin()), {}});
    const auto size = [&](const ArrangeItem& item) {
      const ArrangeKind& kind = task.kinds[static_cast<std::size_t>(item.kind)];
      return kind.greenery ? kind.width : kind.diameter;
    };
    std::stable_sort(layout.items.begin(), layout.items.end(),
                     [&](const ArrangeItem& a, const ArrangeItem& b) { return size(a) > size(b); });
    setHeart(layout, task.wall, index, hashOf({request_.seed, index}));
    return layout;
  }

  const plan::Bloom& bloomOf(int kind) const {
    return request_.blooms[static_cast<std::size_t>(kinds_[static_cast<std::size_t>(kind)])];
  }

  plan::Layout written(const ArrangeTask& task, std::size_t index) const {
    plan::Layout layout;
    layout.name = deal_.layouts[index].name;
    for (const ArrangeItem& item : task.layouts[index].items) {
      plan::Placement placement;
      placement.bloom = bloomOf(item.kind).name;
      placement.at = {onTape(item.spot.x, request_.wall.panel.width),
                      onTape(item.spot.y, request_.wall.panel.height)};
      placement.turn_deg = turnOf(item, hashOf({request_.seed, index, layout.blooms.size()}));
      layout.blooms.push_back(std::move(placement));
    }
    return layout;
  }

  // A place in the plan's unit, in whole steps from the panel's edge.
  Length onTape(float mm, Length panel) const {
    const double step = stepOf(request_);
    const double value = static_cast<double>(mm) / millimetresPer(request_.units) + panel.value / 2;
    return {std::round(value / step) * step};
  }

  static double turnOf(const ArrangeItem& item, std::uint64_t hash) {
    const int jitter = static_cast<int>(hash % (2 * largest_jitter_deg + 1)) - largest_jitter_deg;
    const int turn = item.spot.turn * (360 / turn_steps) + jitter;
    return turn > 180 ? turn - 360 : turn;
  }

  void tellLeftOut(const std::vector<LeftOut>& left_out) {
    std::map<std::pair<int, int>, int> numbers;
    for (const LeftOut& item : left_out) ++numbers[{item.kind, item.layout}];
    for (const auto& [key, number] : numbers) {
      left_out_ += number * static_cast<int>(panelsOf(static_cast<std::size_t>(key.second)));
      deal_.words.push_back(fmt::format("{} \"{}\" of each \"{}\" found no place: base plates would touch",
                                        number, bloomOf(key.first).name,
                                        deal_.layouts[static_cast<std::size_t>(key.second)].name));
    }
  }

  const tables::ArrangeRequest& request_;
  Deal deal_;
  std::vector<int> kinds_;
  int left_out_ = 0;
};

}  // namespace

double bloomsLacking(const Arrangement& arrangement) {
  // The share of a further bloom's paper that covers bare board; estimated from 24 random tables.
  constexpr double use = 0.6;
  const double over = arrangement.bare_share - usual_bare_share;
  return over > 0 && arrangement.paper_share > 0 ? over / use / arrangement.paper_share : 0;
}

Arrangement arrange(const tables::ArrangeRequest& request) { return Arranger(request).arranged(); }

}  // namespace petalproof::arrange
