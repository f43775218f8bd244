#pragma once
// Changes the relative paths in a plan's own text for another folder. The viewer and `petalproof fill` call
// this when they save a plan in another folder.

#include <filesystem>
#include <string>
#include <string_view>

namespace petalproof::plan {

// Returns the text for a plan that moves from `folder` to `target`: its relative paths (meshes, the grid's
// CSV file) lead from `target` to the same files, everything else stays byte for byte. Precondition: the text
// reads without problems. Looks both folders up in the file system; a folder that doesn't exist yet is taken
// as written.
std::string withPathsFrom(std::string_view text, const std::filesystem::path& folder,
                          const std::filesystem::path& target);

}  // namespace petalproof::plan
