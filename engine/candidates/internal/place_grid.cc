#include "engine/candidates/internal/place_grid.h"

#include <algorithm>
#include <cmath>

namespace petalproof::candidates {
namespace {

std::vector<double> piecesOf(int count, double panel_mm, double seam_mm) {
  std::vector<double> pieces;
  for (int k = 0; k < count; ++k) {
    if (k > 0) pieces.push_back(seam_mm);
    pieces.push_back(panel_mm);
  }
  return pieces;
}

}  // namespace

GridLines::GridLines(const std::vector<double>& pieces_mm, double pitch_mm) : steps_per_mm_(1 / pitch_mm) {
  double from = 0;
  for (const double piece : pieces_mm) {
    const int parts = piece > 0 ? std::max(1, static_cast<int>(std::ceil(piece / pitch_mm - 1e-9))) : 0;
    for (int k = 0; k < parts; ++k) at_.push_back(from + (k + 0.5) * piece / parts);
    from += piece;
  }
  const int steps = at_.empty() ? 0 : static_cast<int>(at_.back() * steps_per_mm_) + 2;
  int line = 0;
  for (int step = 0; step < steps; ++step) {
    // A little before the step, so that rounding never skips a line.
    while (line < count() && at(line) < (step - 1e-6) * pitch_mm) ++line;
    first_in_step_.push_back(line);
  }
}

PlaceGrid placeGridOf(const scene::PanelGrid& panels, double pitch_mm) {
  constexpr double usual_area_mm2 = 1e9;
  pitch_mm *= std::max(1.0, std::sqrt(panels.width_mm() * panels.height_mm() / usual_area_mm2));
  PlaceGrid grid;
  grid.x = GridLines(piecesOf(panels.columns, panels.panel_width_mm, panels.seam_mm), pitch_mm);
  grid.y = GridLines(piecesOf(panels.rows, panels.panel_height_mm, panels.seam_mm), pitch_mm);
  grid.pitch_mm = pitch_mm;
  return grid;
}

PlaceBits::PlaceBits(int column0_, int row0_, int columns_, int rows_)
    : column0(column0_),
      row0(row0_),
      columns(std::max(0, columns_)),
      rows(std::max(0, rows_)),
      words_per_row((columns + 63) / 64),
      bits(static_cast<std::size_t>(rows) * static_cast<std::size_t>(words_per_row), 0) {}

void PlaceBits::set(int column, int row) { setRun(row, column, column + 1); }

void PlaceBits::setRun(int row, int from, int to) {
  if (from >= to) return;
  const int first = from - column0;
  const int last = to - column0 - 1;
  std::uint64_t* words = bits.data() + index(0, row - row0);
  const std::uint64_t low = ~std::uint64_t{0} << (first % 64);
  const std::uint64_t high = ~std::uint64_t{0} >> (63 - last % 64);
  if (first / 64 == last / 64) {
    words[first / 64] |= low & high;
    return;
  }
  words[first / 64] |= low;
  for (int w = first / 64 + 1; w < last / 64; ++w) words[w] = ~std::uint64_t{0};
  words[last / 64] |= high;
}

void PlaceBits::clear(const PlaceBits& hidden) {
  forEachShared(hidden, [&](std::size_t here, std::size_t there) { bits[here] &= ~hidden.bits[there]; });
}

PlaceBits PlaceBits::within(const PlaceBits& frame) const {
  PlaceBits shared(frame.column0, frame.row0, frame.columns, frame.rows);
  shared.forEachShared(*this, [&](std::size_t here, std::size_t there) {
    shared.bits[here] = frame.bits[here] & bits[there];
  });
  return shared;
}

bool PlaceBits::any() const {
  return std::any_of(bits.begin(), bits.end(), [](std::uint64_t word) { return word != 0; });
}

void addTo(PlaceBits& once, PlaceBits& twice, const PlaceBits& added) {
  once.forEachShared(added, [&](std::size_t here, std::size_t there) {
    twice.bits[here] |= once.bits[here] & added.bits[there];
    once.bits[here] |= added.bits[there];
  });
}

bool anyOnlyIn(const PlaceBits& hidden, const PlaceBits& wanted, const PlaceBits& twice) {
  bool any = false;
  wanted.forEachShared(hidden, [&](std::size_t here, std::size_t there) {
    any = any || (hidden.bits[there] & wanted.bits[here] & ~twice.bits[here]) != 0;
  });
  return any;
}

}  // namespace petalproof::candidates
