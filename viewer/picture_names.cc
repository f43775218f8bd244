#include "viewer/picture_names.h"

#include "engine/plan/default_shots.h"
#include "engine/report/picture_files.h"

#include <algorithm>

namespace petalproof {

std::vector<std::string> chosenShots(const plan::Plan& plan, const std::vector<std::string>& only) {
  std::vector<std::string> names;
  for (const plan::Shot& shot : plan.shots.empty() ? plan::defaultShots(plan) : plan.shots)
    if (only.empty() || std::find(only.begin(), only.end(), shot.name) != only.end())
      names.push_back(shot.name);
  return names;
}

std::vector<std::string> pictureNames(const std::vector<std::string>& shots) {
  std::vector<std::string> names{report::wall_map_name};
  for (std::size_t k = 0; k < shots.size(); ++k) names.push_back(report::pictureFileName(k + 1, shots[k]));
  return names;
}

}  // namespace petalproof
