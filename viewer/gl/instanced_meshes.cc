#include "viewer/gl/instanced_meshes.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

namespace petalproof::gl {
namespace {

constexpr std::size_t texels_per_copy = 4;

struct Vertex {
  glm::vec3 mesh_mm{0};
  std::uint32_t normal = 0;  // GL_INT_2_10_10_10_REV
  float tint = 1;
};

std::uint32_t packed(const glm::vec3& unit) {
  const auto part = [](float x) {
    return static_cast<std::uint32_t>(std::lround(std::clamp(x, -1.0F, 1.0F) * 511.0F)) & 1023U;
  };
  return part(unit.x) | part(unit.y) << 10 | part(unit.z) << 20;
}

bool isSame(const Mesh& a, const Mesh& b) {
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

}  // namespace

std::vector<glm::vec3> smoothNormals(const Mesh& mesh) {
  std::vector<glm::vec3> normals(mesh.vertices.size(), glm::vec3(0));
  for (const Triangle& t : mesh.triangles) {
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
      copy_texture_(Texture::make()) {}

Sent InstancedMeshes::set(std::span<const Mesh> meshes, std::span<const Copy> copies) {
  Sent sent;
  if (!std::equal(meshes.begin(), meshes.end(), meshes_.begin(), meshes_.end(), isSame)) {
    sendMeshes(meshes);
    sent.meshes = meshes.size();
  }
  sent.copies = sendCopies(copies);
  return sent;
}

void InstancedMeshes::sendMeshes(std::span<const Mesh> meshes) {
  meshes_.assign(meshes.begin(), meshes.end());
  drawn_.assign(meshes.size(), {});
  std::vector<Vertex> vertices;
  std::vector<std::uint32_t> indices;
  for (std::size_t k = 0; k < meshes.size(); ++k) {
    const Mesh& mesh = meshes[k];
    drawn_[k].first_vertex = static_cast<GLint>(vertices.size());
    drawn_[k].first_index = indices.size();
    drawn_[k].indices = static_cast<GLsizei>(3 * mesh.triangles.size());
    const std::vector<glm::vec3> normals = smoothNormals(mesh);
    for (std::size_t v = 0; v < mesh.vertices.size(); ++v)
      vertices.push_back({mesh.vertices[v], packed(normals[v]), mesh.tint.empty() ? 1.0F : mesh.tint[v]});
    for (const Triangle& t : mesh.triangles) indices.insert(indices.end(), t.begin(), t.end());
  }
  glBindVertexArray(array_.name());
  sendBuffer(GL_ARRAY_BUFFER, vertices_, vertices.size() * sizeof(Vertex), vertices.data());
  sendBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_, indices.size() * sizeof(std::uint32_t), indices.data());
  describeVertices();
  glBindVertexArray(0);
}

// Copies go to OpenGL in the order of their meshes; each keeps its number in `copies`.
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

std::size_t InstancedMeshes::sendCopies(std::span<const Copy> copies) {
  std::vector<glm::vec4> texels;
  texels.reserve(texels_per_copy * copies.size());
  for (const std::size_t k : orderedByMesh(copies)) addTexels(texels, copies[k], k);
  glBindBuffer(GL_TEXTURE_BUFFER, copy_data_.name());
  std::size_t sent = copies.size();
  if (texels.size() == texels_.size()) {
    sent = sendChanged(texels);
  } else {
    sendAll(texels);
  }
  texels_ = std::move(texels);
  return sent;
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

// Precondition: as many as were sent last.
std::size_t InstancedMeshes::sendChanged(const std::vector<glm::vec4>& texels) {
  std::size_t sent = 0;
  for (std::size_t k = 0; k < texels.size(); k += texels_per_copy) {
    if (std::equal(&texels[k], &texels[k] + texels_per_copy, &texels_[k])) continue;
    glBufferSubData(GL_TEXTURE_BUFFER, static_cast<GLintptr>(k * sizeof(glm::vec4)),
                    texels_per_copy * sizeof(glm::vec4), &texels[k]);
    ++sent;
  }
  return sent;
}

void InstancedMeshes::draw(const Program& program, int texture_unit) const {
  if (texels_.empty()) return;
  glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(texture_unit));
  glBindTexture(GL_TEXTURE_BUFFER, copy_texture_.name());
  program.set("copies", texture_unit);
  const GLint first_copy = program.location("firstCopy");
  glBindVertexArray(array_.name());
  for (const Drawn& mesh : drawn_) {
    if (mesh.copies == 0) continue;
    glUniform1i(first_copy, mesh.first_copy);
    glDrawElementsInstancedBaseVertex(
        GL_TRIANGLES, mesh.indices, GL_UNSIGNED_INT,
        reinterpret_cast<const void*>(mesh.first_index * sizeof(std::uint32_t)),  // NOLINT: an offset
        mesh.copies, mesh.first_vertex);
  }
  glBindVertexArray(0);
}

}  // namespace petalproof::gl
