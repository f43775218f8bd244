#include "viewer/gl/instanced_meshes.h"

#include "viewer/gl/coarse_mesh.h"

#include <glm/common.hpp>
#include <glm/geometric.hpp>
#include <glm/vec4.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <utility>

namespace petalproof::gl {
namespace {

constexpr std::size_t texels_per_copy = 4;
// The side of the cells in which each level merges corners (coarse_mesh.h), as a share of the mesh's radius;
// set by trial.
constexpr std::array<float, 4> cell_shares{0, 0.25F, 0.42F, 0.6F};

struct Vertex {
  glm::vec3 mesh_mm{0};
  std::uint32_t normal = 0;  // GL_INT_2_10_10_10_REV
  float tint = 1;
};

std::uint32_t packed(const glm::vec3& unit) {
  constexpr float largest = 511;        // of 10 bits with a sign
  constexpr std::uint32_t mask = 1023;  // 10 bits
  const auto part = [](float x) {
    return static_cast<std::uint32_t>(std::lround(std::clamp(x, -1.0F, 1.0F) * largest)) & mask;
  };
  return part(unit.x) | part(unit.y) << 10 | part(unit.z) << 20;
}

bool isSame(const scene::Mesh& a, const scene::Mesh& b) {
  return a.vertices == b.vertices && a.triangles == b.triangles && a.tint == b.tint;
}

void addTexels(std::vector<glm::vec4>& texels, const Copy& copy, std::size_t number) {
  const glm::mat4x3& m = copy.wallFromMesh;
  for (int row = 0; row < 3; ++row) texels.emplace_back(m[0][row], m[1][row], m[2][row], m[3][row]);
  texels.emplace_back(linearFromSrgb(copy.colour), static_cast<float>(number));
}

void sendBuffer(GLenum target, const Buffer& buffer, std::size_t bytes, const void* data) {
  glBindBuffer(target, buffer.name());
  glBufferData(target, static_cast<GLsizeiptr>(bytes), data, GL_DYNAMIC_DRAW);
}

void describeVertices() {
  const auto offset = [](std::size_t bytes) {
    return reinterpret_cast<const void*>(bytes);  // NOLINT: OpenGL takes offsets as pointers
  };
  for (GLuint k = 0; k < 3; ++k) glEnableVertexAttribArray(k);
  glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, sizeof(Vertex), offset(offsetof(Vertex, mesh_mm)));
  glVertexAttribPointer(1, 4, GL_INT_2_10_10_10_REV, GL_TRUE, sizeof(Vertex),
                        offset(offsetof(Vertex, normal)));
  glVertexAttribPointer(2, 1, GL_FLOAT, GL_FALSE, sizeof(Vertex), offset(offsetof(Vertex, tint)));
}

Ball ballOf(const scene::Mesh& mesh) {
  if (mesh.vertices.empty()) return {};
  glm::vec3 low = mesh.vertices.front();
  glm::vec3 high = low;
  for (const glm::vec3& v : mesh.vertices) {
    low = glm::min(low, v);
    high = glm::max(high, v);
  }
  Ball ball{(low + high) / 2.0F, 0};
  for (const glm::vec3& v : mesh.vertices)
    ball.radius_mm = std::max(ball.radius_mm, glm::distance(v, ball.middle_mm));
  return ball;
}

// Sorts triangles so that the front is drawn first: hidden triangles drawn later then need no light. Moves
// runs of successive triangles, which share corners, so that each corner is computed once.
void sortFrontFirst(const scene::Mesh& mesh, std::vector<scene::Triangle>& triangles) {
  constexpr std::size_t run = 16;                       // triangles; set by trial
  std::vector<std::pair<float, std::size_t>> by_depth;  // the depth of each run and its first triangle
  for (std::size_t from = 0; from < triangles.size(); from += run) {
    const std::size_t to = std::min(from + run, triangles.size());
    float sum = 0;
    for (std::size_t k = from; k < to; ++k)
      for (const std::uint32_t corner : triangles[k]) sum += mesh.vertices[corner].z;
    by_depth.emplace_back(-sum / static_cast<float>(to - from), from);
  }
  std::sort(by_depth.begin(), by_depth.end());
  std::vector<scene::Triangle> sorted;
  sorted.reserve(triangles.size());
  for (const auto& [depth, from] : by_depth)
    for (std::size_t k = from; k < std::min(from + run, triangles.size()); ++k)
      sorted.push_back(triangles[k]);
  triangles = std::move(sorted);
}

// The meshes in the order in which to draw them: the tallest first, which hides the others.
std::vector<std::size_t> tallestFirst(std::span<const scene::Mesh> meshes) {
  std::vector<std::pair<float, std::size_t>> by_height;
  for (std::size_t k = 0; k < meshes.size(); ++k) {
    float most = 0;
    for (const glm::vec3& v : meshes[k].vertices) most = std::max(most, v.z);
    by_height.emplace_back(-most, k);
  }
  std::sort(by_height.begin(), by_height.end());
  std::vector<std::size_t> order;
  for (const auto& [height, mesh] : by_height) order.push_back(mesh);
  return order;
}

Ball placed(const Ball& ball, const glm::mat4x3& wallFromMesh) {
  const float stretch =
      std::max({glm::length(wallFromMesh[0]), glm::length(wallFromMesh[1]), glm::length(wallFromMesh[2])});
  return {wallFromMesh * glm::vec4(ball.middle_mm, 1), stretch * ball.radius_mm};
}

// Tells which copies are in a view's picture, and how large they are there.
class Sight {
 public:
  explicit Sight(const View& view) : height_px_(static_cast<float>(view.height_px)) {
    const glm::mat4& m = view.clipFromWall;
    const auto row = [&m](int k) { return glm::vec4(m[0][k], m[1][k], m[2][k], m[3][k]); };
    depth_ = row(3);
    up_ = row(1);
    // The planes through the picture's edges: places in the picture are on the positive side of all four.
    for (const glm::vec4& edge : {depth_ - row(0), depth_ + row(0), depth_ - up_, depth_ + up_})
      edges_[count_++] = edge / glm::length(glm::vec3(edge));
  }

  bool holds(const Ball& ball) const {
    return std::all_of(edges_.begin(), edges_.end(), [&ball](const glm::vec4& edge) {
      return glm::dot(edge, glm::vec4(ball.middle_mm, 1)) > -ball.radius_mm;
    });
  }

  // At the nearest point of the ball; large where the ball reaches behind the eye.
  float pxPerMm(const Ball& ball) const {
    const float depth =
        glm::dot(depth_, glm::vec4(ball.middle_mm, 1)) - glm::length(glm::vec3(depth_)) * ball.radius_mm;
    constexpr float least_depth = 1e-3F;  // mm; keeps the division defined
    return 0.5F * height_px_ * glm::length(glm::vec3(up_)) / std::max(depth, least_depth);
  }

 private:
  float height_px_;
  glm::vec4 depth_{0};
  glm::vec4 up_{0};
  std::array<glm::vec4, 4> edges_{};
  std::size_t count_ = 0;
};

constexpr int left_out = -1;  // instead of a level: the copy isn't drawn

}  // namespace

std::vector<glm::vec3> smoothNormals(const scene::Mesh& mesh) {
  std::vector<glm::vec3> normals(mesh.vertices.size(), glm::vec3(0));
  for (const scene::Triangle& t : mesh.triangles) {
    const glm::vec3& a = mesh.vertices[t[0]];
    const glm::vec3 twice_area = glm::cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a);
    for (const std::uint32_t corner : t) normals[corner] += twice_area;
  }
  for (glm::vec3& normal : normals) {
    const float length = glm::length(normal);
    normal = length > 0 ? normal / length : glm::vec3(0, 0, 1);
  }
  return normals;
}

InstancedMeshes::InstancedMeshes()
    : array_(VertexArray::make()),
      vertices_(Buffer::make()),
      indices_(Buffer::make()),
      copy_data_(Buffer::make()),
      copy_texture_(Texture::make()),
      first_copies_(Buffer::make()) {}

Sent InstancedMeshes::set(std::span<const scene::Mesh> meshes, std::span<const Copy> copies) {
  Sent sent;
  if (!std::equal(meshes.begin(), meshes.end(), meshes_.begin(), meshes_.end(), isSame)) {
    sendMeshes(meshes);
    sent.meshes = meshes.size();
  }
  sendCopies(copies, sent);
  return sent;
}

void InstancedMeshes::sendMeshes(std::span<const scene::Mesh> meshes) {
  meshes_.assign(meshes.begin(), meshes.end());
  drawn_.assign(meshes.size(), {});
  drawing_order_ = tallestFirst(meshes);
  std::vector<Vertex> vertices;
  std::vector<std::uint32_t> indices;
  for (std::size_t k = 0; k < meshes.size(); ++k) {
    const scene::Mesh& mesh = meshes[k];
    Drawn& drawn = drawn_[k];
    drawn.first_vertex = static_cast<GLint>(vertices.size());
    drawn.vertices = static_cast<GLsizei>(mesh.vertices.size());
    drawn.ball = ballOf(mesh);
    const std::vector<glm::vec3> normals = smoothNormals(mesh);
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v)
      vertices.push_back({mesh.vertices[v], packed(normals[v]), mesh.tint.empty() ? 1.0F : mesh.tint[v]});
    for (std::size_t level = 0; level < level_count; ++level) {
      const float cell = cell_shares[level] * drawn.ball.radius_mm;
      std::vector<scene::Triangle> triangles = level == 0 ? mesh.triangles : coarseTriangles(mesh, cell);
      sortFrontFirst(mesh, triangles);
      drawn.levels[level] = {static_cast<GLsizei>(3 * triangles.size()), indices.size(), cell};
      for (const scene::Triangle& t : triangles) indices.insert(indices.end(), t.begin(), t.end());
    }
  }
  glBindVertexArray(array_.name());
  sendBuffer(GL_ARRAY_BUFFER, vertices_, vertices.size() * sizeof(Vertex), vertices.data());
  sendBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_, indices.size() * sizeof(std::uint32_t), indices.data());
  describeVertices();
  glBindVertexArray(0);
}

// The order in which copies are stored: by mesh. The results are indices into `copies`.
std::vector<std::size_t> InstancedMeshes::orderedByMesh(std::span<const Copy> copies) {
  for (Drawn& mesh : drawn_) mesh.copies = 0;
  for (const Copy& copy : copies) ++drawn_[copy.mesh].copies;
  std::vector<std::size_t> next;
  std::size_t sum = 0;
  for (Drawn& mesh : drawn_) {
    mesh.first_copy = static_cast<GLint>(sum);
    next.push_back(sum);
    sum += static_cast<std::size_t>(mesh.copies);
  }
  std::vector<std::size_t> order(copies.size());
  for (std::size_t k = 0; k < copies.size(); ++k) order[next[copies[k].mesh]++] = k;
  return order;
}

void InstancedMeshes::sendCopies(std::span<const Copy> copies, Sent& sent) {
  std::vector<glm::vec4> texels;
  texels.reserve(texels_per_copy * copies.size());
  balls_.clear();
  numbers_ = orderedByMesh(copies);
  for (const std::size_t k : numbers_) {
    addTexels(texels, copies[k], k);
    balls_.push_back(placed(drawn_[copies[k].mesh].ball, copies[k].wallFromMesh));
  }
  sendFirstCopies();
  glBindBuffer(GL_TEXTURE_BUFFER, copy_data_.name());
  if (texels.size() == texels_.size()) {
    sendChanged(texels, sent);
  } else {
    sendAll(texels);
    sent.copies = copies.size();
  }
  texels_ = std::move(texels);
}

void InstancedMeshes::sendAll(const std::vector<glm::vec4>& texels) {
  GLint limit = 0;
  glGetIntegerv(GL_MAX_TEXTURE_BUFFER_SIZE, &limit);
  if (texels.size() > static_cast<std::size_t>(limit))
    throw std::runtime_error("the wall has more blooms than OpenGL takes here");
  sendBuffer(GL_TEXTURE_BUFFER, copy_data_, std::max<std::size_t>(texels.size(), 1) * sizeof(glm::vec4),
             texels.empty() ? nullptr : texels.data());
  glBindTexture(GL_TEXTURE_BUFFER, copy_texture_.name());
  glTexBuffer(GL_TEXTURE_BUFFER, GL_RGBA32F, copy_data_.name());
}

// Precondition: as many texels as were sent last.
void InstancedMeshes::sendChanged(const std::vector<glm::vec4>& texels, Sent& sent) {
  for (std::size_t k = 0; k < texels.size(); k += texels_per_copy) {
    if (std::equal(&texels[k], &texels[k] + texels_per_copy, &texels_[k])) continue;
    glBufferSubData(GL_TEXTURE_BUFFER, static_cast<GLintptr>(k * sizeof(glm::vec4)),
                    texels_per_copy * sizeof(glm::vec4), &texels[k]);
    sent.changed.push_back(numbers_[k / texels_per_copy]);
  }
  sent.copies = sent.changed.size();
}

void InstancedMeshes::sendFirstCopies() {
  std::vector<GLint> firsts;
  for (const Drawn& mesh : drawn_)
    firsts.insert(firsts.end(), static_cast<std::size_t>(mesh.vertices), mesh.first_copy);
  if (firsts == firsts_) return;
  glBindVertexArray(array_.name());
  sendBuffer(GL_ARRAY_BUFFER, first_copies_, firsts.size() * sizeof(GLint), firsts.data());
  glEnableVertexAttribArray(3);
  glVertexAttribIPointer(3, 1, GL_INT, sizeof(GLint), nullptr);
  glBindVertexArray(0);
  firsts_ = std::move(firsts);
}

// `level_of(mesh, k)`: the level of the k-th copy in storage order, or left_out.
template <class LevelOf>
std::size_t InstancedMeshes::drawCopies(const Program& program, int texture_unit,
                                        const LevelOf& level_of) const {
  if (texels_.empty()) return 0;
  glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(texture_unit));
  glBindTexture(GL_TEXTURE_BUFFER, copy_texture_.name());
  program.set("copies", texture_unit);
  const GLint shift = program.location("copyShift");
  glBindVertexArray(array_.name());
  Singles singles;
  std::size_t triangles = 0;
  for (const std::size_t number : drawing_order_) {
    const Drawn& mesh = drawn_[number];
    const auto levelAt = [&](GLsizei k) {
      return level_of(mesh, static_cast<std::size_t>(mesh.first_copy + k));
    };
    for (GLsizei k = 0; k < mesh.copies;) {
      const int chosen = levelAt(k);
      const GLsizei from = k++;
      while (k < mesh.copies && levelAt(k) == chosen) ++k;
      if (chosen == left_out) continue;
      const Level& level = mesh.levels[static_cast<std::size_t>(chosen)];
      triangles += static_cast<std::size_t>(level.indices / 3 * (k - from));
      const void* const offset =
          reinterpret_cast<const void*>(level.first_index * sizeof(std::uint32_t));  // NOLINT: an offset
      if (from == 0 && k == 1) {
        singles.indices.push_back(level.indices);
        singles.offsets.push_back(offset);
        singles.first_vertices.push_back(mesh.first_vertex);
        continue;
      }
      glUniform1i(shift, from);
      glDrawElementsInstancedBaseVertex(GL_TRIANGLES, level.indices, GL_UNSIGNED_INT, offset, k - from,
                                        mesh.first_vertex);
    }
  }
  glUniform1i(shift, 0);
  if (!singles.indices.empty())
    glMultiDrawElementsBaseVertex(GL_TRIANGLES, singles.indices.data(), GL_UNSIGNED_INT,
                                  singles.offsets.data(), static_cast<GLsizei>(singles.indices.size()),
                                  singles.first_vertices.data());
  glBindVertexArray(0);
  return triangles;
}

std::size_t InstancedMeshes::draw(const Program& program, int texture_unit) const {
  return drawCopies(program, texture_unit, [](const Drawn&, std::size_t) { return 0; });
}

std::size_t InstancedMeshes::draw(const Program& program, int texture_unit, const View& view, float coarse_px,
                                  const Part& part) const {
  const Sight sight(view);
  return drawCopies(program, texture_unit, [&](const Drawn& mesh, std::size_t k) {
    if (!part.chosen.empty() && (part.chosen[numbers_[k]] != 0) == part.others) return left_out;
    const Ball& ball = balls_[k];
    if (!sight.holds(ball)) return left_out;
    if (coarse_px <= 0) return 0;
    const float allowed_mm = coarse_px / sight.pxPerMm(ball);
    int level = static_cast<int>(level_count) - 1;
    while (level > 0 && mesh.levels[static_cast<std::size_t>(level)].corner_mm > allowed_mm) --level;
    return level;
  });
}

}  // namespace petalproof::gl
