#pragma once
// A rectangle of values stored row by row, top row first: the wall's cells and the engine's rasters.

#include <cassert>
#include <cstddef>
#include <utility>
#include <vector>

namespace petalproof {

template <class T>
class Grid {
 public:
  Grid() = default;
  Grid(int columns, int rows, T fill = T{})
      : columns_(columns),
        rows_(rows),
        cells_(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows), std::move(fill)) {}

  int columns() const { return columns_; }
  int rows() const { return rows_; }

  T& at(int column, int row) { return cells_[index(column, row)]; }
  const T& at(int column, int row) const { return cells_[index(column, row)]; }

  std::vector<T>& cells() { return cells_; }
  const std::vector<T>& cells() const { return cells_; }

  friend bool operator==(const Grid&, const Grid&) = default;

 private:
  std::size_t index(int column, int row) const {
    assert(column >= 0 && column < columns_ && row >= 0 && row < rows_);
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(column);
  }

  int columns_ = 0;
  int rows_ = 0;
  std::vector<T> cells_;
};

}  // namespace petalproof
