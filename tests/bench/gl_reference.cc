#include "tests/bench/gl_reference.h"

#include "viewer/gl/headless.h"

#include <epoxy/gl.h>
#include <fmt/format.h>
#include <glm/vec4.hpp>

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <vector>

namespace petalproof::bench {
namespace {

constexpr const char* integer_vertex_shader = R"(#version 330 core
layout(location = 0) in vec3 position;
layout(location = 1) in uint id;
uniform mat4 clipFromCamera;
flat out uint pixel_id;
void main() {
  gl_Position = clipFromCamera * vec4(position, 1.0);
  pixel_id = id;
})";

constexpr const char* integer_fragment_shader = R"(#version 330 core
flat in uint pixel_id;
layout(location = 0) out uint shown;
void main() { shown = pixel_id; })";

constexpr const char* colour_vertex_shader = R"(#version 330 core
layout(location = 0) in vec3 position;
layout(location = 1) in uint id;
uniform mat4 clipFromCamera;
flat out vec4 colour;
void main() {
  gl_Position = clipFromCamera * vec4(position, 1.0);
  colour = vec4(id & 255u, id >> 8 & 255u, id >> 16 & 255u, id >> 24) / 255.0;
})";

constexpr const char* colour_fragment_shader = R"(#version 330 core
flat in vec4 colour;
layout(location = 0) out vec4 shown;
void main() { shown = colour; })";

GLuint compiled(GLenum kind, const char* text) {
  const GLuint shader = glCreateShader(kind);
  glShaderSource(shader, 1, &text, nullptr);
  glCompileShader(shader);
  GLint good = 0;
  glGetShaderiv(shader, GL_COMPILE_STATUS, &good);
  if (good == 0) throw std::runtime_error("the shader doesn't compile");
  return shader;
}

GLuint linked(const char* vertex_shader, const char* fragment_shader) {
  const GLuint program = glCreateProgram();
  glAttachShader(program, compiled(GL_VERTEX_SHADER, vertex_shader));
  glAttachShader(program, compiled(GL_FRAGMENT_SHADER, fragment_shader));
  glLinkProgram(program);
  return program;
}

struct Vertex {
  glm::vec3 camera_mm;
  std::uint32_t id;
};

struct FlatScene {
  std::vector<Vertex> vertices;
  std::vector<std::uint32_t> indices;
  float nearest_mm = 1e30F;
  float farthest_mm = 0;
};

// Nearest blooms first, which spares the fragment stage work.
std::vector<std::size_t> frontToBack(std::span<const visibility::TriangleBatch> batches,
                                     const visibility::RasterView& view) {
  std::vector<std::pair<double, std::size_t>> keyed;
  for (std::size_t k = 0; k < batches.size(); ++k) {
    const glm::dmat4x3 world(batches[k].worldFromBatch);
    double nearest = 1e30;
    for (const glm::vec3& v : batches[k].vertices) {
      const glm::dvec3 at = view.cameraFromWorld * glm::dvec4(world * glm::dvec4(v, 1.0), 1.0);
      nearest = std::min(nearest, -at.z);
    }
    keyed.emplace_back(nearest, k);
  }
  std::sort(keyed.begin(), keyed.end());
  std::vector<std::size_t> order;
  for (const auto& [depth, k] : keyed) order.push_back(k);
  return order;
}

FlatScene flattened(std::span<const visibility::TriangleBatch> batches, const visibility::RasterView& view) {
  FlatScene flat;
  for (const std::size_t k : frontToBack(batches, view)) {
    const visibility::TriangleBatch& batch = batches[k];
    const auto first = static_cast<std::uint32_t>(flat.vertices.size());
    const glm::dmat4x3 world(batch.worldFromBatch);
    for (const glm::vec3& v : batch.vertices) {
      const glm::vec3 at(view.cameraFromWorld * glm::dvec4(world * glm::dvec4(v, 1.0), 1.0));
      flat.vertices.push_back({at, batch.id});
      flat.nearest_mm = std::min(flat.nearest_mm, -at.z);
      flat.farthest_mm = std::max(flat.farthest_mm, -at.z);
    }
    for (const auto& triangle : batch.triangles) {
      for (const std::uint32_t corner : triangle) flat.indices.push_back(first + corner);
    }
  }
  return flat;
}

// Row 0 of the read-back is the picture's top row: v is not flipped.
std::array<float, 16> clipFromCamera(const visibility::RasterView& view, double nearest, double farthest) {
  const double w = view.width_px;
  const double h = view.height_px;
  const double depth = farthest - nearest;
  std::array<double, 16> m{};
  m[0] = 2 * view.focal_px / w;
  m[8] = 1 - 2 * view.principal_px.x / w;
  m[5] = -2 * view.focal_px / h;
  m[9] = 1 - 2 * view.principal_px.y / h;
  m[10] = -(farthest + nearest) / depth;
  m[14] = -2 * farthest * nearest / depth;
  m[11] = -1;
  std::array<float, 16> out{};
  std::transform(m.begin(), m.end(), out.begin(), [](double x) { return static_cast<float>(x); });
  return out;
}

}  // namespace

struct GlReference::State {
  std::optional<gl::HeadlessContext> context;
  GlRecipe recipe = GlRecipe::integers;
  std::array<GLuint, 2> programs{};  // by recipe
  std::array<float, 16> clipFromCamera{};
  GLuint framebuffer = 0;
  std::array<GLuint, 2> targets{};
  GLuint vertex_array = 0;
  std::array<GLuint, 2> buffers{};
  GLsizei index_count = 0;
  int width_px = 0;
  int height_px = 0;

  void makeTargets();
};

void GlReference::State::makeTargets() {
  glDeleteFramebuffers(1, &framebuffer);
  glDeleteRenderbuffers(2, targets.data());
  glGenFramebuffers(1, &framebuffer);
  glGenRenderbuffers(2, targets.data());
  glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
  glBindRenderbuffer(GL_RENDERBUFFER, targets[0]);
  glRenderbufferStorage(GL_RENDERBUFFER, recipe == GlRecipe::integers ? GL_R32UI : GL_RGBA8, width_px,
                        height_px);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, targets[0]);
  glBindRenderbuffer(GL_RENDERBUFFER, targets[1]);
  glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT32F, width_px, height_px);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, targets[1]);
  if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE) {
    throw std::runtime_error("OpenGL doesn't take the framebuffer");
  }
  glViewport(0, 0, width_px, height_px);
}

GlReference::GlReference(std::unique_ptr<State> state) : state_(std::move(state)) {}
GlReference::~GlReference() = default;
GlReference::GlReference(GlReference&&) noexcept = default;
GlReference& GlReference::operator=(GlReference&&) noexcept = default;

std::optional<GlReference> GlReference::make() {
  auto state = std::make_unique<State>();
  state->context = gl::HeadlessContext::make(gl::HeadlessDevice::processor);
  if (!state->context) return std::nullopt;
  state->programs = {linked(integer_vertex_shader, integer_fragment_shader),
                     linked(colour_vertex_shader, colour_fragment_shader)};
  glGenVertexArrays(1, &state->vertex_array);
  glGenBuffers(2, state->buffers.data());
  return GlReference(std::move(state));
}

std::string GlReference::renderer() const { return state_->context->renderer(); }

void GlReference::load(std::span<const visibility::TriangleBatch> batches,
                       const visibility::RasterView& view) {
  const FlatScene flat = flattened(batches, view);
  state_->width_px = view.width_px;
  state_->height_px = view.height_px;
  state_->index_count = static_cast<GLsizei>(flat.indices.size());
  glBindVertexArray(state_->vertex_array);
  glBindBuffer(GL_ARRAY_BUFFER, state_->buffers[0]);
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(flat.vertices.size() * sizeof(Vertex)),
               flat.vertices.data(), GL_STATIC_DRAW);
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, state_->buffers[1]);
  glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(flat.indices.size() * sizeof(std::uint32_t)),
               flat.indices.data(), GL_STATIC_DRAW);
  glEnableVertexAttribArray(0);
  glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, sizeof(Vertex), nullptr);
  glEnableVertexAttribArray(1);
  glVertexAttribIPointer(1, 1, GL_UNSIGNED_INT, sizeof(Vertex),
                         reinterpret_cast<const void*>(offsetof(Vertex, id)));  // NOLINT
  state_->clipFromCamera = clipFromCamera(view, 0.9 * flat.nearest_mm, 1.1 * flat.farthest_mm);
  use(state_->recipe);
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LESS);
  glPixelStorei(GL_PACK_ALIGNMENT, 4);
}

void GlReference::use(GlRecipe recipe) {
  state_->recipe = recipe;
  state_->makeTargets();
  const GLuint program = state_->programs[recipe == GlRecipe::integers ? 0 : 1];
  glUseProgram(program);
  glUniformMatrix4fv(glGetUniformLocation(program, "clipFromCamera"), 1, GL_FALSE,
                     state_->clipFromCamera.data());
}

void GlReference::draw(visibility::IdBuffer& out) {
  const std::array<GLuint, 4> nothing{};
  const float far = 1;
  out.width_px = state_->width_px;
  out.height_px = state_->height_px;
  out.ids.resize(static_cast<std::size_t>(out.width_px) * static_cast<std::size_t>(out.height_px));
  const bool integers = state_->recipe == GlRecipe::integers;
  if (integers) glClearBufferuiv(GL_COLOR, 0, nothing.data());
  if (!integers) glClearBufferfv(GL_COLOR, 0, std::array<float, 4>{}.data());
  glClearBufferfv(GL_DEPTH, 0, &far);
  glDrawElements(GL_TRIANGLES, state_->index_count, GL_UNSIGNED_INT, nullptr);
  glReadPixels(0, 0, out.width_px, out.height_px, integers ? GL_RED_INTEGER : GL_RGBA,
               integers ? GL_UNSIGNED_INT : GL_UNSIGNED_INT_8_8_8_8_REV, out.ids.data());
}

}  // namespace petalproof::bench
