#include "engine/picture/planes.h"

#include "engine/base/picture_memory.h"

#include <algorithm>

namespace petalproof::picture {

Planes::Planes(int width, int height) : width_px(width), height_px(height) {
  for (auto& one : plane) one.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
}

void Planes::resize(int width, int height, const Pool& pool) {
  width_px = width;
  height_px = height;
  for (auto& one : plane)
    resizePicture(one, static_cast<std::size_t>(width) * static_cast<std::size_t>(height), pool);
}

TileSet::TileSet(int width_px, int height_px, bool all)
    : columns_((width_px + size_px - 1) / size_px), rows_((height_px + size_px - 1) / size_px) {
  wanted_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), all ? 1 : 0);
}

void TileSet::add(int x0, int y0, int x1, int y1) {
  const int first_column = std::max(0, x0) / size_px;
  const int first_row = std::max(0, y0) / size_px;
  const int last_column = std::min(columns_ - 1, (x1 - 1) / size_px);
  const int last_row = std::min(rows_ - 1, (y1 - 1) / size_px);
  for (int row = first_row; x1 > 0 && y1 > 0 && row <= last_row; ++row)
    for (int column = first_column; column <= last_column; ++column) wanted_[index(column, row)] = 1;
}

void TileSet::addAll(const TileSet& other) {
  for (std::size_t k = 0; k < wanted_.size(); ++k) wanted_[k] |= other.wanted_[k];
}

}  // namespace petalproof::picture
