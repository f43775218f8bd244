// Any bytes as an OBJ file: a mesh or problems; a mesh is whole, and fits any size asked for.
#include "engine/scene/internal/read_obj.h"
#include "tests/fuzz/expect.h"

#include <cmath>
#include <cstdint>
#include <string_view>

using namespace petalproof;
using namespace petalproof::scene;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto read = readObj({reinterpret_cast<const char*>(data), size}, "fuzz.obj");
  fuzz::expect(read.value.has_value() == read.problems.empty(), "either a mesh or problems");
  if (!read) return 0;
  const Mesh& mesh = *read.value;
  fuzz::expect(!mesh.triangles.empty(), "a mesh has triangles");
  for (const auto& triangle : mesh.triangles)
    for (const std::uint32_t corner : triangle)
      fuzz::expect(corner < mesh.vertices.size(), "each corner is a vertex");
  for (const glm::vec3& v : fittedTo(mesh, 100, 30).vertices)
    fuzz::expect(std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z), "each vertex has its place");
  return 0;
}
