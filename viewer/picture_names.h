#pragma once
// The names of pictures, known before they are drawn.

#include "engine/plan/plan.h"

#include <string>
#include <vector>

namespace petalproof {

// The names of the shots that a check looks at, in its order: those that are named in `only`, or all.
std::vector<std::string> chosenShots(const plan::Plan& plan, const std::vector<std::string>& only);

// As drawPictureFiles() names them.
std::vector<std::string> pictureNames(const std::vector<std::string>& shots);

}  // namespace petalproof
