#pragma once
// Paths in a plan or a table are relative to the folder it is in.

#include "engine/plan/plan.h"

#include <filesystem>
#include <vector>

namespace petalproof {

// Makes the mesh paths that are relative to one folder relative to another.
void moveMeshPaths(std::vector<plan::Bloom>& blooms, const std::filesystem::path& from,
                   const std::filesystem::path& to);

}  // namespace petalproof
