#pragma once
// Names the pictures of a check or a filling before the work begins, so that a command can look whether they
// can be written.

#include "engine/plan/plan.h"

#include <string>
#include <vector>

namespace petalproof {

// The names of the shots that a check looks at, in its order: those that are named in `only`, or all.
std::vector<std::string> chosenShots(const plan::Plan& plan, const std::vector<std::string>& only);

// The files' names, as drawPictureFiles() gives them.
std::vector<std::string> pictureNames(const std::vector<std::string>& shots);

}  // namespace petalproof
