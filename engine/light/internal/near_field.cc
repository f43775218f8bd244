#include "engine/light/internal/near_field.h"

#include "engine/light/internal/lanes.h"
#include "engine/light/internal/light_loops.h"

#include <algorithm>
#include <bit>
#include <limits>

namespace petalproof::light {
namespace {

constexpr float usual_near_cell_mm = 8;  // seen along the wall's z
// Wide walls and large blooms get larger cells, which take longer to search, so that memory stays bounded.
constexpr double most_cells = 16'000'000;
constexpr double most_in_cells = 100'000'000;

}  // namespace

int NearField::columnOf(float x) const {
  return std::clamp(floored((x - min_mm_.x) / cell_mm_), 0, columns_ - 1);
}
int NearField::rowOf(float y) const { return std::clamp(floored((y - min_mm_.y) / cell_mm_), 0, rows_ - 1); }

// Calls visit(first column, last column, first row, last row) of the cells within reach of a blade.
template <class Visit>
void NearField::forCellsOf(const Blade& blade, const Visit& visit) const {
  const BladeBounds bounds = boundsOf(blade);
  visit(columnOf(bounds.low.x - reach_mm), columnOf(bounds.high.x + reach_mm), rowOf(bounds.low.y - reach_mm),
        rowOf(bounds.high.y + reach_mm));
}

template <class Visit>
void NearField::forCells(const Visit& visit) const {
  for (std::uint32_t k = 0; k < blades_.size(); ++k) {
    forCellsOf(blades_[k], [&](int first_column, int last_column, int first_row, int last_row) {
      for (int row = first_row; row <= last_row; ++row)
        for (int column = first_column; column <= last_column; ++column) visit(cellOf(column, row), k);
    });
  }
}

// As small as memory allows.
void NearField::layCells(const glm::vec2& low, const glm::vec2& high) {
  min_mm_ = low;
  for (cell_mm_ = usual_near_cell_mm;; cell_mm_ *= 2) {
    const glm::dvec2 cells = glm::dvec2(high - low) / static_cast<double>(cell_mm_);
    if (cells.x * cells.y > most_cells || cells.x > most_cells || cells.y > most_cells) continue;
    columns_ = floored((high.x - low.x) / cell_mm_) + 1;
    rows_ = floored((high.y - low.y) / cell_mm_) + 1;
    double in_cells = 0;
    for (const Blade& blade : blades_)
      forCellsOf(blade, [&](int first_column, int last_column, int first_row, int last_row) {
        in_cells += (last_column - first_column + 1.0) * (last_row - first_row + 1.0);
      });
    if (in_cells <= most_in_cells || columns_ * rows_ == 1) return;
  }
}

NearField::NearField(const TriangleSoup& soup) {
  glm::vec2 low(std::numeric_limits<float>::max());
  glm::vec2 high(std::numeric_limits<float>::lowest());
  for (const glm::vec3& v : soup.vertices) {
    low = glm::min(low, glm::vec2(v));
    high = glm::max(high, glm::vec2(v));
  }
  for (const auto& [a, b, c] : soup.triangles)
    blades_.push_back({soup.vertices[a], soup.vertices[b], soup.vertices[c]});
  if (!soup.vertices.empty()) layCells(low, high);
  first_in_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  forCells([this](std::size_t cell, std::uint32_t) { ++first_in_[cell]; });
  std::uint32_t total = 0;
  for (std::uint32_t& first : first_in_) first = total += first;  // ends; filled backwards they become firsts
  in_cell_.resize(total);
  forCells([this](std::size_t cell, std::uint32_t blade) { in_cell_[--first_in_[cell]] = blade; });
}

std::vector<std::uint32_t> NearField::byCell(const VectorRow& places) const {
  std::vector<std::uint32_t> first_of(first_in_.size() + 1, 0);
  const std::size_t count = places.x.size();
  for (std::size_t k = 0; k < count; ++k) ++first_of[cellAt(places.at(k)) + 1];
  for (std::size_t cell = 1; cell < first_of.size(); ++cell) first_of[cell] += first_of[cell - 1];
  std::vector<std::uint32_t> order(count);
  for (std::size_t k = 0; k < count; ++k)
    order[first_of[cellAt(places.at(k))]++] = static_cast<std::uint32_t>(k);
  return order;
}

std::span<const Blade> NearField::Search::findAbove(const glm::vec3& place, const glm::vec3& normal) {
  const std::size_t cell = field_.cellAt(place);
  const std::uint32_t* const ids = field_.in_cell_.data() + field_.first_in_[cell];
  if (cell != cell_) {
    cell_ = cell;
    near_.clear();
    const std::size_t count = field_.first_in_[cell + 1] - field_.first_in_[cell];
    for (std::size_t k = 0; k < count; ++k) near_.push_back(field_.blades_[ids[k]]);
    near_.fillUp();
    above_.resize(near_.size() / lanes);
  }
  bladesAbove(near_, {place, normal, reach_mm, touching_mm}, above_.data());
  blades_.clear();
  for (std::size_t group = 0; group < above_.size(); ++group) {
    for (unsigned left = above_[group]; left != 0; left &= left - 1)
      blades_.push_back(
          field_.blades_[ids[group * lanes + static_cast<std::size_t>(std::countr_zero(left))]]);
  }
  return blades_;
}

}  // namespace petalproof::light
