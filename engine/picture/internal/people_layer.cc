#include "engine/picture/internal/people_layer.h"

#include "engine/scene/person.h"

#include <algorithm>
#include <array>

namespace petalproof::picture {
namespace {

constexpr glm::vec3 figure_colour{0.40F, 0.41F, 0.43F};
constexpr glm::vec3 rim_colour{0.10F, 0.105F, 0.115F};
constexpr float figure_cover = 0.5F;
constexpr float farther = 0.93F;  // of the inverse depth: someone behind, not beside

scene::Mesh standing(const plan::Person& person, const camera::WallFrame& wall) {
  scene::Mesh figure = scene::makePerson(toMillimetres(person.height, wall.units));
  const glm::vec3 at(wall.width_mm / 2 + toMillimetres(person.right_of_centre, wall.units),
                     -wall.above_floor_mm, toMillimetres(person.out_from_board, wall.units));
  for (glm::vec3& vertex : figure.vertices) vertex += at;
  return figure;
}

}  // namespace

PeopleLayer::PeopleLayer(const std::vector<plan::Person>& people, const camera::WallFrame& wall,
                         const visibility::RasterView& view, const visibility::IdBuffer& seen,
                         visibility::Rasteriser& rasteriser)
    : rim_px_(std::max(1, view.width_px / 900)) {
  if (people.empty()) return;
  std::vector<scene::Mesh> figures;
  std::vector<visibility::TriangleBatch> batches;
  for (const plan::Person& person : people) figures.push_back(standing(person, wall));
  for (const scene::Mesh& figure : figures) {
    const auto id = static_cast<std::uint32_t>(batches.size() + 1);
    batches.push_back({figure.vertices, figure.triangles, glm::mat4x3(1.0F), id, false});
  }
  rasteriser.draw(batches, view, figures_);
  for (std::size_t at = 0; at < figures_.ids.size(); ++at) {
    if (figures_.inverse_depths[at] <= seen.inverse_depths[at]) figures_.ids[at] = 0;
    if (figures_.ids[at] == 0) figures_.inverse_depths[at] = 0;
  }
}

// Where within the rim's width nobody stands or somebody clearly farther away, 0 to 1.
float PeopleLayer::rimAt(int x, int y) const {
  constexpr std::array<std::array<int, 2>, 8> around{
      {{2, 0}, {1, 1}, {0, 2}, {-1, 1}, {-2, 0}, {-1, -1}, {0, -2}, {1, -1}}};
  const float own = inverseDepth(x, y);
  int outside = 0;
  for (const auto& [dx, dy] : around) {
    const int nx = std::clamp(x + dx * rim_px_, 0, figures_.width_px - 1);
    const int ny = std::clamp(y + dy * rim_px_, 0, figures_.height_px - 1);
    if (inverseDepth(nx, ny) < farther * own) ++outside;
  }
  return std::min(1.0F, static_cast<float>(outside) / 4.0F);
}

glm::vec3 PeopleLayer::over(const glm::vec3& behind, int x, int y) const {
  if (figures_.ids.empty()) return behind;
  if (figures_.id(x, y) == 0) return behind;
  const float rim = rimAt(x, y);
  const glm::vec3 colour = figure_colour + (rim_colour - figure_colour) * rim;
  return behind + (colour - behind) * (figure_cover + 0.25F * rim);
}

}  // namespace petalproof::picture
