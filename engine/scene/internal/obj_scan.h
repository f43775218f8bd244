#pragma once
// A first, light pass over an OBJ file: what the loader takes silently is refused here, with its line.

#include "engine/base/problem.h"
#include "engine/scene/internal/read_obj.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof::scene {

// What keeps the text from being a mesh we can use; nothing if it is one. Afterwards each `v` line has
// three finite numbers and each `f` line three or more indices that name a vertex.
std::optional<Problem> scanObj(std::string_view text, const std::string& file, const ObjLimits& limits);

// Faces with more corners are refused: cutting one up takes time that grows with the square.
constexpr std::size_t most_face_corners = 1'000;

}  // namespace petalproof::scene
