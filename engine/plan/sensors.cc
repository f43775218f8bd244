#include "engine/plan/sensors.h"

#include <algorithm>
#include <cassert>

namespace petalproof::plan {

std::vector<Sensor> namedSensors() {
  return {{"full frame", 36, 24},
          {"APS-C", 23.6, 15.8},
          {"four thirds", 17.3, 13},
          {"1 inch", 13.2, 8.8},
          {"phone", 9.8, 7.35}};
}

Sensor sensorNamed(std::string_view name) {
  const auto sensors = namedSensors();
  const auto found =
      std::find_if(sensors.begin(), sensors.end(), [&](const Sensor& s) { return s.name == name; });
  assert(found != sensors.end());
  return *found;
}

}  // namespace petalproof::plan
