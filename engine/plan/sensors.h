#pragma once
#include "engine/plan/plan.h"

#include <vector>

namespace petalproof::plan {

// The sensors that have a name, by trade usage. Four thirds and 1 inch by the makers' common standard
// sizes, phone: value from memory.
std::vector<Sensor> namedSensors();
// Precondition: the name is one of namedSensors().
Sensor sensorNamed(std::string_view name);

}  // namespace petalproof::plan
