#include "engine/reading/internal/near_field.h"

#include <algorithm>
#include <limits>

namespace petalproof {
namespace {

constexpr float cell_mm = 10;  // seen along the wall's z

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
    blades_.push_back({p, q - p, r - p, glm::min(p, glm::min(q, r)), glm::max(p, glm::max(q, r))});
  }
  first_in_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_) + 1, 0);
  forCells(soup, [this](std::size_t cell, std::uint32_t) { ++first_in_[cell]; });
  std::uint32_t total = 0;
  for (std::uint32_t& first : first_in_) first = total += first;  // ends; filled backwards they become firsts
  in_cell_.resize(total);
  forCells(soup, [this](std::size_t cell, std::uint32_t blade) { in_cell_[--first_in_[cell]] = blade; });
}

bool NearField::Blade::risesAbove(const glm::vec3& place, const glm::vec3& normal) const {
  const float height = glm::dot(corner - place, normal);
  return height + std::max(std::max(glm::dot(along1, normal), glm::dot(along2, normal)), 0.0F) > touching_mm;
}

bool NearField::Blade::comesNear(const glm::vec3& place) const {
  if (place.z - high.z >= reach_mm || low.z - place.z >= reach_mm) return false;
  const glm::vec3 off = glm::max(glm::vec3(0.0F), glm::max(low - place, place - high));
  return glm::dot(off, off) < reach_mm * reach_mm;
}

void NearField::addAbove(const glm::vec3& place, const glm::vec3& normal,
                         std::vector<std::uint32_t>& blades) const {
  const auto first = static_cast<std::ptrdiff_t>(blades.size());
  for (int row = rowOf(place.y - reach_mm); row <= rowOf(place.y + reach_mm); ++row) {
    for (int column = columnOf(place.x - reach_mm); column <= columnOf(place.x + reach_mm); ++column) {
      const std::size_t cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                               static_cast<std::size_t>(column);
      for (std::uint32_t k = first_in_[cell]; k < first_in_[cell + 1]; ++k) {
        const Blade& blade = blades_[in_cell_[k]];
        if (blade.comesNear(place) && blade.risesAbove(place, normal)) blades.push_back(in_cell_[k]);
      }
    }
  }
  std::sort(blades.begin() + first, blades.end());
  blades.erase(std::unique(blades.begin() + first, blades.end()), blades.end());
}

bool NearField::blocks(std::span<const std::uint32_t> blades, const glm::vec3& from,
                       const glm::vec3& towards) const {
  return std::any_of(blades.begin(), blades.end(), [&](std::uint32_t k) {
    return crosses(from, towards, blades_[k].corner, blades_[k].along1, blades_[k].along2);
  });
}

}  // namespace petalproof
