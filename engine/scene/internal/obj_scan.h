#pragma once
// Checks the text of an OBJ file before the loader reads it: mistakes that the loader takes silently are
// refused with their line. readObj calls this.

#include "engine/base/problem.h"
#include "engine/scene/internal/read_obj.h"

#include <glm/vec3.hpp>

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace petalproof::scene {

struct ObjScan {
  // The first mistake in the text; nothing if the text is a usable mesh. Then each `v` line has three
  // finite numbers and each `f` line three or more indices that name a vertex.
  std::optional<Problem> problem;
  // Vertices with an exponent, by their number from 0: the loader makes no number of 0e999.
  std::vector<std::pair<std::size_t, glm::vec3>> with_exponents;
};

ObjScan scanObj(std::string_view text, const std::string& file, const ObjLimits& limits);

// Faces with more corners are refused: the time to triangulate a face grows with the square of its corners.
constexpr std::size_t most_face_corners = 1'000;

}  // namespace petalproof::scene
