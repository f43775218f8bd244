#pragma once
// Changes to a plan in its maker's own text: what isn't changed stays as it was, byte for byte, comments and
// order and line ends too.

#include "engine/plan/plan.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

// The text of a plan that reads without problems, with other fillers: of its own those numbered in `kept`
// (ascending, indices into Plan::fillers) and then `added`, all in that order. New entries stand where the
// old ones end, else at the end, in the way the old ones are written (sections, or one list). The comments
// of an entry that goes stay. Reading the result gives the plan with these fillers.
std::string withFillers(std::string_view text, const std::vector<int>& kept,
                        const std::vector<Filler>& added);

// The text of such a plan as it has to read in another folder: its relative paths (meshes, the grid's CSV
// file) lead from `target` to the same files. Asks the file system about the two folders; a folder that isn't
// there yet is taken as written.
std::string withPathsFrom(std::string_view text, const std::filesystem::path& folder,
                          const std::filesystem::path& target);

}  // namespace petalproof::plan
