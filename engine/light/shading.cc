#include "engine/light/shading.h"

#include <glm/geometric.hpp>

namespace petalproof::light {

void Shading::arriving(const std::vector<LitPlace>& places, std::vector<Irradiance>& light) const {
  light.assign(places.size(), {});
  for (std::size_t lamp = 0; lamp < lamps_.size(); ++lamp) {
    const glm::vec3& power = lamps_[lamp].power;
    for (std::size_t k = 0; k < places.size(); ++k) {
      const LitPlace& place = places[k];
      const PaperResponse response = paperResponse(glm::dot(place.normal, lamps_[lamp].towards));
      const float open = shadows_.reaching(lamp, place.point, place.normal);
      light[k].reflected += power * (response.reflected * open);
      light[k].passed += power * (response.passed * open);
      light[k].hidden += power * (response.reflected * (1 - open));
    }
  }
}

glm::vec3 reflectedBy(const SurfacePoint& surface, const Irradiance& light) {
  constexpr float given_back = 0.55F;
  const glm::vec3& colour = surface.colour;
  glm::vec3 sum = colour * light.reflected + colour * colour * light.hidden * given_back;
  if (surface.paper) sum += colour * glm::sqrt(colour) * light.passed;
  return sum;
}

}  // namespace petalproof::light
