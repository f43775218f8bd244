#pragma once
// Changes the paths of meshes between plans and tables, each relative to the folder of its own file.

#include "engine/plan/plan.h"

#include <filesystem>
#include <vector>

namespace petalproof {

// Makes the mesh paths that are relative to one folder relative to another.
void moveMeshPaths(std::vector<plan::Bloom>& blooms, const std::filesystem::path& from,
                   const std::filesystem::path& to);

}  // namespace petalproof
