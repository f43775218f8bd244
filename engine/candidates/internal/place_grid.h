#pragma once
// The grid of places of the board plane on which fillings work (2 mm or finer, with a line along the middle
// of every slit, however narrow), and sets of its places as bits.

#include "engine/scene/scene.h"

#include <glm/vec2.hpp>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace petalproof::candidates {

// The positions of a grid's lines along one axis, ascending, with a quick search.
class GridLines {
 public:
  GridLines() = default;
  // `pieces`: lengths laid end to end from 0, each cut into equal parts of at most `pitch_mm`; a line through
  // the middle of each part.
  GridLines(const std::vector<double>& pieces_mm, double pitch_mm);

  int count() const { return static_cast<int>(at_.size()); }
  double at(int k) const { return at_[static_cast<std::size_t>(k)]; }
  // The first line at or after `mm`; count() where there is none.
  int firstFrom(double mm) const {
    if (at_.empty() || mm <= at_.front()) return 0;
    if (mm > at_.back()) return count();
    int line = first_in_step_[static_cast<std::size_t>(mm * steps_per_mm_)];
    while (at(line) < mm) ++line;
    return line;
  }
  // The first line after `mm`.
  int firstAfter(double mm) const {
    int line = firstFrom(mm);
    while (line < count() && at(line) <= mm) ++line;
    return line;
  }

 private:
  std::vector<double> at_;
  std::vector<int> first_in_step_;
  double steps_per_mm_ = 1;
};

// Rows from below, columns from the left; place = row * columns + column.
struct PlaceGrid {
  GridLines x;
  GridLines y;
  double pitch_mm = 2;  // the greatest distance of neighbouring lines

  std::size_t places() const {
    return static_cast<std::size_t>(x.count()) * static_cast<std::size_t>(y.count());
  }
  std::uint32_t place(int column, int row) const {
    return static_cast<std::uint32_t>(row) * static_cast<std::uint32_t>(x.count()) +
           static_cast<std::uint32_t>(column);
  }
  int columnOf(std::uint32_t place) const {
    return static_cast<int>(place % static_cast<std::uint32_t>(x.count()));
  }
  int rowOf(std::uint32_t place) const {
    return static_cast<int>(place / static_cast<std::uint32_t>(x.count()));
  }
  glm::dvec2 at(std::uint32_t place) const { return {x.at(columnOf(place)), y.at(rowOf(place))}; }
};

constexpr double usual_pitch_mm = 2;
// On walls of over 1,000 m2 places lie farther apart, so that there are no more of them.
PlaceGrid placeGridOf(const scene::PanelGrid& panels, double pitch_mm = usual_pitch_mm);
// How many times as far apart as usual; grids of sites go with it.
inline double coarsenessOf(const PlaceGrid& grid) { return std::max(1.0, grid.pitch_mm / usual_pitch_mm); }

// A set of places: one bit for each place of a rectangle of the grid.
struct PlaceBits {
  int column0 = 0;
  int row0 = 0;
  int columns = 0;
  int rows = 0;
  int words_per_row = 0;
  std::vector<std::uint64_t> bits;

  PlaceBits() = default;
  PlaceBits(int column0_, int row0_, int columns_, int rows_);
  bool has(int column, int row) const {
    const int c = column - column0;
    const int r = row - row0;
    if (c < 0 || r < 0 || c >= columns || r >= rows) return false;
    return (word(c, r) >> (c % 64) & 1U) != 0;
  }
  void set(int column, int row);
  // [from, to) of a row of the grid, both inside the rectangle.
  void setRun(int row, int from, int to);
  // Removes the places of `hidden`. Both must lie in whole words of the same grid's columns, as for the
  // functions below.
  void clear(const PlaceBits& hidden);
  // The places that are in `frame` too, in frame's rectangle.
  PlaceBits within(const PlaceBits& frame) const;
  bool any() const;
  // Calls visit(column) for each place of [from, to) of a row that is set here and not in `but`, until visit
  // returns false. The run must lie inside both rectangles.
  template <class Visit>
  bool forEachInRun(int row, int from, int to, const PlaceBits& but, const Visit& visit) const {
    for (int column = from; column < to; column = column / 64 * 64 + 64) {
      const int end = std::min(to, column / 64 * 64 + 64);
      const std::uint64_t low = ~std::uint64_t{0} << (column % 64);
      const std::uint64_t high = ~std::uint64_t{0} >> (63 - (end - 1) % 64);
      std::uint64_t left =
          word(column - column0, row - row0) & ~but.word(column - but.column0, row - but.row0) & low & high;
      for (; left != 0; left &= left - 1)
        if (!visit(column / 64 * 64 + __builtin_ctzll(left))) return false;
    }
    return true;
  }
  // Calls visit(column, row) for each place of the grid that is set, row by row.
  template <class Visit>
  void forEach(const Visit& visit) const {
    for (int r = 0; r < rows; ++r)
      for (int w = 0; w < words_per_row; ++w)
        for (std::uint64_t left = bits[index(w * 64, r)]; left != 0; left &= left - 1)
          visit(column0 + w * 64 + __builtin_ctzll(left), row0 + r);
  }

 private:
  friend void addTo(PlaceBits& once, PlaceBits& twice, const PlaceBits& added);
  friend bool anyOnlyIn(const PlaceBits& hidden, const PlaceBits& wanted, const PlaceBits& twice);
  // Calls visit(index here, index there) for the words that both rectangles have.
  template <class Visit>
  void forEachShared(const PlaceBits& there, const Visit& visit) const {
    const int shift = (there.column0 - column0) / 64;
    for (int r = std::max(0, there.row0 - row0); r < std::min(rows, there.row0 - row0 + there.rows); ++r)
      for (int w = std::max(0, shift); w < std::min(words_per_row, shift + there.words_per_row); ++w)
        visit(index(w * 64, r), there.index((w - shift) * 64, r + row0 - there.row0));
  }
  std::size_t index(int c, int r) const {
    return static_cast<std::size_t>(r) * static_cast<std::size_t>(words_per_row) +
           static_cast<std::size_t>(c / 64);
  }
  std::uint64_t word(int c, int r) const { return bits[index(c, r)]; }
};

// Counts up to two: adds the places of `added` to `once`, and to `twice` those that `once` had already.
// `once` and `twice` have the same rectangle.
void addTo(PlaceBits& once, PlaceBits& twice, const PlaceBits& added);
// Whether `hidden` has a wanted place that is not in `twice`. `wanted` and `twice` have the same rectangle.
bool anyOnlyIn(const PlaceBits& hidden, const PlaceBits& wanted, const PlaceBits& twice);

}  // namespace petalproof::candidates
