#pragma once
// Meshes in a single vertex buffer, and the copies of them that are drawn: blooms, panels, people.
// WallRenderer sets and draws them. Draws only copies within the picture, and small copies coarsely where
// that is allowed.

#include "viewer/gl/handle.h"
#include "viewer/gl/program.h"
#include "viewer/gl/view.h"

#include "engine/base/colour.h"
#include "engine/scene/mesh.h"

#include <glm/mat4x3.hpp>
#include <glm/vec3.hpp>

#include <array>
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

// A sphere that holds a mesh.
struct Ball {
  glm::vec3 middle_mm{0};
  float radius_mm = 0;
};

// How much a change sent to OpenGL.
struct Sent {
  std::size_t meshes = 0;
  std::size_t copies = 0;
  std::vector<std::size_t> changed;  // indices of the copies, where their number is unchanged
};

// Selects the copies to draw: those with a 1 in `chosen`, or all others. Empty: all copies.
struct Part {
  std::span<const std::uint8_t> chosen;
  bool others = false;
};

class InstancedMeshes {
 public:
  InstancedMeshes();

  // Sends what changed: all meshes where any mesh changed or was added, and the copies that changed.
  Sent set(std::span<const scene::Mesh> meshes, std::span<const Copy> copies);

  // Draws all copies with the program in use, whose vertex shader begins with copies.glsl. Leaves the copies
  // bound at `texture_unit`. Returns the number of triangles.
  std::size_t draw(const Program& program, int texture_unit) const;
  // Likewise, only the copies in the picture. `coarse_px`: how far corners may move, in pixels.
  std::size_t draw(const Program& program, int texture_unit, const View& view, float coarse_px = 0,
                   const Part& part = {}) const;

 private:
  static constexpr std::size_t level_count = 4;  // the mesh itself and three coarser levels
  struct Level {
    GLsizei indices = 0;
    std::size_t first_index = 0;
    float corner_mm = 0;  // how far corners are moved at most
  };
  struct Drawn {  // a mesh and its copies, which are stored side by side
    std::array<Level, level_count> levels;
    GLint first_vertex = 0;
    GLsizei vertices = 0;
    GLsizei copies = 0;
    GLint first_copy = 0;
    Ball ball;  // of the mesh frame
  };
  // Meshes of which only the first copy is drawn, collected for a single call of OpenGL.
  struct Singles {
    std::vector<GLsizei> indices;
    std::vector<const void*> offsets;
    std::vector<GLint> first_vertices;
  };

  template <class LevelOf>
  std::size_t drawCopies(const Program& program, int texture_unit, const LevelOf& level_of) const;
  void sendFirstCopies();
  void sendMeshes(std::span<const scene::Mesh> meshes);
  std::vector<std::size_t> orderedByMesh(std::span<const Copy> copies);
  void sendCopies(std::span<const Copy> copies, Sent& sent);
  void sendAll(const std::vector<glm::vec4>& texels);
  void sendChanged(const std::vector<glm::vec4>& texels, Sent& sent);

  VertexArray array_;
  Buffer vertices_;
  Buffer indices_;
  Buffer copy_data_;
  Texture copy_texture_;
  std::vector<scene::Mesh> meshes_;  // as sent
  std::vector<glm::vec4> texels_;
  std::vector<GLint> firsts_;
  Buffer first_copies_;                     // for each vertex, the index of its mesh's first copy
  std::vector<Drawn> drawn_;                // by mesh
  std::vector<std::size_t> drawing_order_;  // of the meshes
  std::vector<Ball> balls_;                 // in the wall frame, for each copy in the order of their meshes
  std::vector<std::size_t> numbers_;        // the numbers of the copies in that order
};

// Unit normals of smooth paper for each vertex, weighted by area; +z for a vertex without a face.
std::vector<glm::vec3> smoothNormals(const scene::Mesh& mesh);

}  // namespace petalproof::gl
