#pragma once
// Checks the text of an OBJ file before the loader reads it: mistakes that the loader takes silently are
// refused with their line. readObj calls this.

#include "engine/base/problem.h"
#include "engine/scene/internal/read_obj.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof::scene {

// The first mistake in the text; nothing if it is a usable mesh. Then each `v` line has three finite numbers
// and each `f` line three or more indices that name a vertex.
std::optional<Problem> scanObj(std::string_view text, const std::string& file, const ObjLimits& limits);

// Faces with more corners are refused: the time to triangulate a face grows with the square of its corners.
constexpr std::size_t most_face_corners = 1'000;

}  // namespace petalproof::scene
