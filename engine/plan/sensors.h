#pragma once
// The camera sensors that plans call by name; the reader of [[shot]] and the viewer's shot panel use them.

#include "engine/plan/plan.h"

#include <vector>

namespace petalproof::plan {

// Sizes by trade usage. Four thirds and 1 inch by the makers' common standard
// sizes, phone: value from memory.
std::vector<Sensor> namedSensors();
// Precondition: the name is one of namedSensors().
Sensor sensorNamed(std::string_view name);

}  // namespace petalproof::plan
