#pragma once
// Meshes in one vertex buffer, and where copies of them stand; drawn copies of one mesh at a time.

#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"

#include "engine/base/colour.h"
#include "engine/scene/mesh.h"

#include <glm/mat4x3.hpp>
#include <glm/vec3.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::gl {

struct Copy {
  std::uint32_t mesh = 0;
  glm::mat4x3 wallFromMesh{1.0F};
  Colour colour;
  friend bool operator==(const Copy&, const Copy&) = default;
};

// What a change had to send to OpenGL.
struct Sent {
  std::size_t meshes = 0;
  std::size_t copies = 0;
};

class InstancedMeshes {
 public:
  InstancedMeshes();

  // Sends what isn't there yet: all meshes where one is another or was added, those copies that changed.
  Sent set(std::span<const Mesh> meshes, std::span<const Copy> copies);

  // With the program in use, whose vertex shader begins with copies.glsl. `texture_unit`: left bound there
  // are the copies.
  void draw(const Program& program, int texture_unit) const;

 private:
  struct Drawn {  // one mesh and its copies, which follow each other
    GLsizei indices = 0;
    std::size_t first_index = 0;
    GLint first_vertex = 0;
    GLsizei copies = 0;
    GLint first_copy = 0;
  };

  void sendMeshes(std::span<const Mesh> meshes);
  std::vector<std::size_t> orderedByMesh(std::span<const Copy> copies);
  std::size_t sendCopies(std::span<const Copy> copies);
  void sendAll(const std::vector<glm::vec4>& texels);
  std::size_t sendChanged(const std::vector<glm::vec4>& texels);

  VertexArray array_;
  Buffer vertices_;
  Buffer indices_;
  Buffer copy_data_;
  Texture copy_texture_;
  std::vector<Mesh> meshes_;  // as sent
  std::vector<glm::vec4> texels_;
  std::vector<Drawn> drawn_;  // by mesh
};

// Unit normals of smooth paper, area-weighted, one a vertex; that of a vertex without a face is +z.
std::vector<glm::vec3> smoothNormals(const Mesh& mesh);

}  // namespace petalproof::gl
