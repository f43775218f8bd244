#include "engine/reading/internal/near_field.h"

#include <algorithm>
#include <limits>

namespace petalproof {
namespace {

constexpr float cell_mm = 6;  // seen along the wall's z

bool crosses(const glm::vec3& from, const glm::vec3& towards, const glm::vec3& corner,
             const glm::vec3& along1, const glm::vec3& along2) {
  // T. Moeller and B. Trumbore, Fast, Minimum Storage Ray/Triangle Intersection, 1997.
  const glm::vec3 p = glm::cross(towards, along2);
  const float det = glm::dot(along1, p);
  if (det == 0) return false;
  const float scale = 1 / det;
  const glm::vec3 s = from - corner;
  const float u = glm::dot(s, p) * scale;
  if (!(u >= 0 && u <= 1)) return false;
  const glm::vec3 q = glm::cross(s, along1);
  const float v = glm::dot(towards, q) * scale;
  if (!(v >= 0 && u + v <= 1)) return false;
  const float t = glm::dot(along2, q) * scale;
  return t > 0 && t < NearField::reach_mm;
}

}  // namespace

int NearField::columnOf(float x) const {
  return std::clamp(floored((x - min_mm_.x) / cell_mm), 0, columns_ - 1);
}
int NearField::rowOf(float y) const { return std::clamp(floored((y - min_mm_.y) / cell_mm), 0, rows_ - 1); }

template <class Visit>
void NearField::forCells(const TriangleSoup& soup, const Visit& visit) const {
  for (std::uint32_t k = 0; k < soup.triangles.size(); ++k) {
    const auto& [a, b, c] = soup.triangles[k];
    const glm::vec3 low = glm::min(soup.vertices[a], glm::min(soup.vertices[b], soup.vertices[c]));
    const glm::vec3 high = glm::max(soup.vertices[a], glm::max(soup.vertices[b], soup.vertices[c]));
    for (int row = rowOf(low.y); row <= rowOf(high.y); ++row) {
      for (int column = columnOf(low.x); column <= columnOf(high.x); ++column) {
        visit(static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                  static_cast<std::size_t>(column),
              k);
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
    blades_.push_back({p, q - p, r - p, std::min({p.z, q.z, r.z}), std::max({p.z, q.z, r.z})});
  }
  first_in_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  forCells(soup, [this](std::size_t cell, std::uint32_t) { ++first_in_[cell]; });
  std::uint32_t total = 0;
  for (std::uint32_t& first : first_in_) first = total += first;  // ends; filled backwards they become firsts
  in_cell_.resize(total);
  forCells(soup, [this](std::size_t cell, std::uint32_t blade) { in_cell_[--first_in_[cell]] = blade; });
}

bool NearField::blocks(const glm::vec3& from, const glm::vec3& towards) const {
  const glm::vec3 to = from + reach_mm * towards;
  const float min_z = std::min(from.z, to.z);
  const float max_z = std::max(from.z, to.z);
  const int last_row = rowOf(std::max(from.y, to.y));
  const int last_column = columnOf(std::max(from.x, to.x));
  for (int row = rowOf(std::min(from.y, to.y)); row <= last_row; ++row) {
    for (int column = columnOf(std::min(from.x, to.x)); column <= last_column; ++column) {
      const std::size_t cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                               static_cast<std::size_t>(column);
      for (std::uint32_t k = first_in_[cell]; k < first_in_[cell + 1]; ++k) {
        const Blade& blade = blades_[in_cell_[k]];
        if (blade.max_z < min_z || blade.min_z > max_z) continue;
        if (crosses(from, towards, blade.corner, blade.along1, blade.along2)) return true;
      }
    }
  }
  return false;
}

}  // namespace petalproof
