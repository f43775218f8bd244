#pragma once
// Meshes in one vertex buffer, and where copies of them stand. Only copies within the picture are drawn, and
// those that are small there coarsely, where that is allowed.

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

// Around a mesh.
struct Ball {
  glm::vec3 middle_mm{0};
  float radius_mm = 0;
};

// What a change had to send to OpenGL.
struct Sent {
  std::size_t meshes = 0;
  std::size_t copies = 0;
  std::vector<std::size_t> changed;  // which copies, where there are as many as before
};

// Which copies are drawn, by their numbers: those that `chosen` has, or all others. Empty: all.
struct Part {
  std::span<const std::uint8_t> chosen;
  bool others = false;
};

class InstancedMeshes {
 public:
  InstancedMeshes();

  // Sends what isn't there yet: all meshes where one is another or was added, those copies that changed.
  Sent set(std::span<const scene::Mesh> meshes, std::span<const Copy> copies);

  // With the program in use, whose vertex shader begins with copies.glsl. `texture_unit`: left bound there
  // are the copies. Returns how many triangles were sent.
  std::size_t draw(const Program& program, int texture_unit) const;  // all of them
  // Those in the picture. `coarse_px`: corners may move by so many pixels.
  std::size_t draw(const Program& program, int texture_unit, const View& view, float coarse_px = 0,
                   const Part& part = {}) const;

 private:
  static constexpr std::size_t level_count = 4;  // the mesh itself, and coarser ones of some of its corners
  struct Level {
    GLsizei indices = 0;
    std::size_t first_index = 0;
    float corner_mm = 0;  // corners are at most so far from where they belong
  };
  struct Drawn {  // one mesh and its copies, which follow each other
    std::array<Level, level_count> levels;
    GLint first_vertex = 0;
    GLsizei vertices = 0;
    GLsizei copies = 0;
    GLint first_copy = 0;
    Ball ball;  // of the mesh frame
  };
  // Draws of meshes of which only the first copy is wanted go to OpenGL in one call.
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
  Buffer first_copies_;                     // one a vertex: of its mesh
  std::vector<Drawn> drawn_;                // by mesh
  std::vector<std::size_t> drawing_order_;  // of them
  std::vector<Ball> balls_;                 // of the wall frame, by copy in the order of their meshes
  std::vector<std::size_t> numbers_;        // of copies in that order
};

// Unit normals of smooth paper, area-weighted, one a vertex; that of a vertex without a face is +z.
std::vector<glm::vec3> smoothNormals(const scene::Mesh& mesh);

}  // namespace petalproof::gl
