#pragma once
// Short rays among the blooms, exactly: for what lies so near that a shadow map can't tell it from the
// surface itself.

#include "engine/light/internal/blades.h"
#include "engine/light/internal/depth_map.h"
#include "engine/light/internal/lit_spots.h"

#include <glm/vec3.hpp>

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::light {

class NearField {
 public:
  static constexpr float reach_mm = 8.0F;
  static constexpr float touching_mm = 0.05F;  // above a place's plane: no more than its own paper's bend

  explicit NearField(const TriangleSoup& soup);

  // The places' indices, those in one cell of the wall together: in such an order a search is fastest.
  std::vector<std::uint32_t> byCell(const VectorRow& places) const;

  // Searches one place after the other; keeps what lies near the cell of the last.
  class Search {
   public:
    explicit Search(const NearField& field) : field_(field) {}
    // The triangles that come within reach of the place and rise above its plane: only they can block a short
    // ray from there. Valid until the next call.
    std::span<const Blade> findAbove(const glm::vec3& place, const glm::vec3& normal);

   private:
    const NearField& field_;
    std::size_t cell_ = no_cell;
    BladeRows near_;
    std::vector<std::uint8_t> above_;
    std::vector<Blade> blades_;
  };

 private:
  static constexpr std::size_t no_cell = static_cast<std::size_t>(-1);

  int columnOf(float x) const;
  int rowOf(float y) const;
  std::size_t cellOf(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
           static_cast<std::size_t>(column);
  }
  std::size_t cellAt(const glm::vec3& place) const { return cellOf(columnOf(place.x), rowOf(place.y)); }
  template <class Visit>
  void forCells(const Visit& visit) const;

  template <class Visit>
  void forCellsOf(const Blade& blade, const Visit& visit) const;
  void layCells(const glm::vec2& low, const glm::vec2& high);

  float cell_mm_ = 1;
  glm::vec2 min_mm_{0};
  int columns_ = 1;
  int rows_ = 1;
  std::vector<Blade> blades_;
  std::vector<std::uint32_t> first_in_;  // of each cell: index into in_cell_; one more at the end
  std::vector<std::uint32_t> in_cell_;   // blades within reach of some place of the cell
};

}  // namespace petalproof::light
