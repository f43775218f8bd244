#include "engine/reading/internal/near_field.h"

#include <algorithm>
#include <limits>

namespace petalproof {
namespace {

constexpr float cell_mm = 8;  // seen along the wall's z

}  // namespace

int NearField::columnOf(float x) const {
  return std::clamp(floored((x - min_mm_.x) / cell_mm), 0, columns_ - 1);
}
int NearField::rowOf(float y) const { return std::clamp(floored((y - min_mm_.y) / cell_mm), 0, rows_ - 1); }

template <class Visit>
void NearField::forCells(const Visit& visit) const {
  for (std::uint32_t k = 0; k < bounds_.size(); ++k) {
    const Bounds& blade = bounds_[k];
    const int last_row = rowOf(blade.high.y + reach_mm);
    const int last_column = columnOf(blade.high.x + reach_mm);
    for (int row = rowOf(blade.low.y - reach_mm); row <= last_row; ++row) {
      for (int column = columnOf(blade.low.x - reach_mm); column <= last_column; ++column) {
        visit(cellOf(column, row), k);
      }
    }
  }
}

NearField::NearField(const TriangleSoup& soup) {
  glm::vec2 low(std::numeric_limits<float>::max());
  glm::vec2 high(std::numeric_limits<float>::lowest());
  for (const glm::vec3& v : soup.vertices) {
    low = glm::min(low, glm::vec2(v));
    high = glm::max(high, glm::vec2(v));
  }
  if (!soup.vertices.empty()) {
    min_mm_ = low;
    columns_ = floored((high.x - low.x) / cell_mm) + 1;
    rows_ = floored((high.y - low.y) / cell_mm) + 1;
  }
  for (const auto& [a, b, c] : soup.triangles) {
    const glm::vec3& p = soup.vertices[a];
    const glm::vec3& q = soup.vertices[b];
    const glm::vec3& r = soup.vertices[c];
    blades_.push_back({p, q, r});
    bounds_.push_back({glm::min(p, glm::min(q, r)), glm::max(p, glm::max(q, r))});
  }
  first_in_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  forCells([this](std::size_t cell, std::uint32_t) { ++first_in_[cell]; });
  std::uint32_t total = 0;
  for (std::uint32_t& first : first_in_) first = total += first;  // ends; filled backwards they become firsts
  in_cell_.resize(total);
  forCells([this](std::size_t cell, std::uint32_t blade) { in_cell_[--first_in_[cell]] = blade; });
}

bool NearField::Bounds::comeNear(const glm::vec3& place) const {
  const auto off = [](float low_mm, float at_mm, float high_mm) {
    return std::max(std::max(low_mm - at_mm, at_mm - high_mm), 0.0F);
  };
  const float x = off(low.x, place.x, high.x);
  const float y = off(low.y, place.y, high.y);
  const float z = off(low.z, place.z, high.z);
  return x * x + y * y + z * z < reach_mm * reach_mm;
}

void NearField::findAbove(const glm::vec3& place, const glm::vec3& normal, std::vector<Blade>& blades) const {
  blades.clear();
  const auto height = [&](const glm::vec3& corner) { return glm::dot(corner - place, normal); };
  const std::size_t cell = cellOf(columnOf(place.x), rowOf(place.y));
  for (std::uint32_t k = first_in_[cell]; k < first_in_[cell + 1]; ++k) {
    if (!bounds_[in_cell_[k]].comeNear(place)) continue;
    const Blade& blade = blades_[in_cell_[k]];
    if (std::max(height(blade.a), std::max(height(blade.b), height(blade.c))) > touching_mm)
      blades.push_back(blade);
  }
}

}  // namespace petalproof
