#include "engine/fill/internal/day_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace petalproof::fill {
namespace {

constexpr double small_mm = 6 * 25.4;  // blooms under it are small, by common practice, no source

int cellOf(double mm, double pitch_mm, int count) {
  return std::clamp(static_cast<int>(std::floor(mm / pitch_mm)), 0, count - 1);
}

// The cells that the plate reaches into, along one axis; `mm` from the left or the top.
std::pair<int, int> reached(double mm, double radius, double panel_mm, double seam_mm, int count) {
  const double pitch = panel_mm + seam_mm;
  // A plate over a slit reaches into both panels beside it.
  const int first = cellOf(mm - radius, pitch, count);
  const int last = cellOf(mm + radius + seam_mm, pitch, count);
  return {first, last};
}

gaps::Owner overWhat(const scene::PanelGrid& panels, glm::dvec2 at, double radius) {
  const auto [left, right] = reached(at.x, radius, panels.panel_width_mm, panels.seam_mm, panels.columns);
  const auto [top, bottom] =
      reached(panels.height_mm() - at.y, radius, panels.panel_height_mm, panels.seam_mm, panels.rows);
  if (left < right && top < bottom) return {gaps::GapKind::crossing, left, top, false};
  if (left < right) return {gaps::GapKind::seam, left, top, true};
  if (top < bottom) return {gaps::GapKind::seam, left, top, false};
  return {gaps::GapKind::board, left, top, false};
}

// The gaps that places belong to, sorted for look-ups by eye and place.
struct GapsByPlace {
  std::vector<candidates::PlaceOfGap> sorted;
  explicit GapsByPlace(const std::vector<candidates::PlaceOfGap>& gaps) : sorted(gaps) {
    std::sort(sorted.begin(), sorted.end(),
              [](const candidates::PlaceOfGap& a, const candidates::PlaceOfGap& b) {
                return std::tuple(a.eye, a.place, a.shot, a.gap) < std::tuple(b.eye, b.place, b.shot, b.gap);
              });
  }
};

// The places of the grid that a filler hides from the eyes.
struct Hidden {
  std::vector<std::uint64_t> pairs;  // eye << 32 | place, ascending
};

Hidden hiddenOf(const scene::FillerMaker& maker, const candidates::Candidate& filler,
                const candidates::PlaceGrid& grid, const candidates::MustHide& must_hide) {
  Hidden hidden;
  for (std::size_t eye = 0; eye < must_hide.eyes.size(); ++eye) {
    const candidates::PlaceBits bits = candidates::hiddenBy(maker, filler, must_hide.eyes[eye].at, grid);
    for (int row = bits.row0; row < bits.row0 + bits.rows; ++row)
      for (int column = bits.column0; column < std::min(bits.column0 + bits.columns, grid.x.count());
           ++column)
        if (bits.has(column, row) && must_hide.eyes[eye].places.has(column, row))
          hidden.pairs.push_back(static_cast<std::uint64_t>(eye) << 32 | grid.place(column, row));
  }
  return hidden;
}

std::vector<std::string> idsOf(const Hidden& hidden, const GapsByPlace& gaps, const check::Check& before) {
  std::set<std::pair<std::uint32_t, std::uint32_t>> found;
  for (const std::uint64_t pair : hidden.pairs) {
    const auto eye = static_cast<std::uint32_t>(pair >> 32);
    const auto place = static_cast<std::uint32_t>(pair);
    auto at = std::lower_bound(
        gaps.sorted.begin(), gaps.sorted.end(), std::pair(eye, place),
        [](const candidates::PlaceOfGap& a, const std::pair<std::uint32_t, std::uint32_t>& b) {
          return std::pair(a.eye, a.place) < b;
        });
    for (; at != gaps.sorted.end() && at->eye == eye && at->place == place; ++at)
      found.insert({at->shot, at->gap});
  }
  std::vector<std::string> ids;
  for (const auto& [shot, gap] : found)
    ids.push_back(check::idOf(before.shots[shot], before.shots[shot].found.gaps[gap]));
  return ids;
}

}  // namespace

void sayWhere(PlacedFiller& filler, const plan::Plan& plan, const scene::PanelGrid& panels, double plate_mm) {
  const double from_top = panels.height_mm() - filler.at.mm.y;
  filler.panel_column = cellOf(filler.at.mm.x, panels.panel_width_mm + panels.seam_mm, panels.columns);
  filler.panel_row = cellOf(from_top, panels.panel_height_mm + panels.seam_mm, panels.rows);
  filler.from_left_mm = filler.at.mm.x - panels.left_mm(filler.panel_column);
  filler.from_top_mm = panels.top_mm(filler.panel_row) - filler.at.mm.y;
  const gaps::Owner over = overWhat(panels, filler.at.mm, plate_mm / 2);
  filler.over = nameOf(over);
  filler.when = over.kind == gaps::GapKind::board ? When::onTheTable : When::afterTaping;
  const bool inside = filler.panel_column >= 0 && filler.panel_row >= 0;
  if (inside && filler.when == When::onTheTable &&
      plan.wall.grid.at(filler.panel_column, filler.panel_row).upside_down) {
    filler.table_left_mm = panels.panel_width_mm - filler.from_left_mm;
    filler.table_top_mm = panels.panel_height_mm - filler.from_top_mm;
  }
}

bool hungBefore(const PlacedFiller& a, const PlacedFiller& b) {
  const auto key = [](const PlacedFiller& filler) {
    return std::tuple(filler.panel_row, filler.panel_column, static_cast<int>(filler.when),
                      filler.from_top_mm, filler.from_left_mm, filler.kind);
  };
  return key(a) < key(b);
}

void rankFillers(std::vector<PlacedFiller>& fillers, const std::vector<candidates::Candidate>& as_candidates,
                 const scene::FillerMaker& maker, const candidates::PlaceGrid& grid,
                 const candidates::MustHide& must_hide, const check::Check& before, const Pool& workers) {
  std::vector<Hidden> hidden(fillers.size());
  workers.forEach(fillers.size(),
                  [&](std::size_t k) { hidden[k] = hiddenOf(maker, as_candidates[k], grid, must_hide); });
  const GapsByPlace gaps(must_hide.gaps);
  workers.forEach(fillers.size(), [&](std::size_t k) { fillers[k].hides = idsOf(hidden[k], gaps, before); });

  std::map<std::uint64_t, std::vector<std::uint32_t>> hiders;
  std::vector<std::int64_t> fresh(fillers.size());
  for (std::size_t k = 0; k < fillers.size(); ++k) {
    fresh[k] = static_cast<std::int64_t>(hidden[k].pairs.size());
    for (const std::uint64_t pair : hidden[k].pairs) hiders[pair].push_back(static_cast<std::uint32_t>(k));
  }
  std::set<std::pair<std::int64_t, std::size_t>> queue;
  for (std::size_t k = 0; k < fillers.size(); ++k) queue.insert({-fresh[k], k});
  for (int rank = 1; !queue.empty(); ++rank) {
    const std::size_t best = queue.begin()->second;
    queue.erase(queue.begin());
    fillers[best].rank = rank;
    fillers[best].hidden_mm2 = static_cast<double>(fresh[best]) * grid.pitch_mm * grid.pitch_mm;
    for (const std::uint64_t pair : hidden[best].pairs) {
      const auto found = hiders.find(pair);
      if (found == hiders.end()) continue;
      for (const std::uint32_t other : found->second) {
        const auto waiting = queue.find({-fresh[other], other});
        if (waiting == queue.end()) continue;
        queue.erase(waiting);
        queue.insert({-(--fresh[other]), other});
      }
      hiders.erase(found);
    }
  }
}

std::vector<FillerTotal> totalsOf(const std::vector<PlacedFiller>& fillers, const plan::Plan& plan,
                                  const FillOptions& options) {
  constexpr double rounding = 1e-9;  // a whole number of spares stays whole
  const auto number = [](const Colour& colour) { return std::tuple(colour.red, colour.green, colour.blue); };
  std::map<std::tuple<int, std::tuple<std::uint8_t, std::uint8_t, std::uint8_t>>, FillerTotal> totals;
  std::map<int, int> of_kind;
  for (const PlacedFiller& filler : fillers) {
    if (filler.old) continue;
    FillerTotal& total = totals[{filler.kind, number(filler.colour)}];
    total.kind = filler.kind;
    total.colour = filler.colour;
    ++total.count;
    ++of_kind[filler.kind];
  }
  std::vector<FillerTotal> list;
  for (auto& [key, total] : totals) {
    const plan::Bloom& bloom = plan.blooms[static_cast<std::size_t>(total.kind)];
    double sheets = 0;
    for (const plan::Card& card : bloom.card) sheets += card.sheets;
    total.sheets = sheets * total.count;
    total.minutes = bloom.minutes * total.count;
    const bool is_small = toMillimetres(bloom.diameter, plan) < small_mm;
    const double share = is_small ? options.spare_small : options.spare_medium;
    total.spare = static_cast<int>(std::ceil(share * total.count - rounding));
    if (is_small) total.spare = std::max(total.spare, options.fewest_small_spares);
    list.push_back(total);
  }
  return list;
}

}  // namespace petalproof::fill
