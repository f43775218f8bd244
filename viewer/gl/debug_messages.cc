#include "viewer/gl/debug_messages.h"

#include <epoxy/gl.h>
#include <fmt/format.h>

namespace petalproof::gl {
namespace {

void GLAPIENTRY listen(GLenum /*source*/, GLenum type, GLuint /*id*/, GLenum /*severity*/, GLsizei /*length*/,
                       const GLchar* message, const void* user) {
  if (type != GL_DEBUG_TYPE_ERROR && type != GL_DEBUG_TYPE_UNDEFINED_BEHAVIOR) return;
  auto* const said = static_cast<std::vector<std::string>*>(const_cast<void*>(user));  // NOLINT: OpenGL's way
  said->emplace_back(message);
}

}  // namespace

DebugMessages::DebugMessages()
    : listening_(epoxy_has_gl_extension("GL_KHR_debug")),
      said_(std::make_unique<std::vector<std::string>>()) {
  if (!listening_) return;
  glEnable(GL_DEBUG_OUTPUT);
  glEnable(GL_DEBUG_OUTPUT_SYNCHRONOUS);
  glDebugMessageCallback(listen, said_.get());
}

DebugMessages::~DebugMessages() {
  if (listening_) glDebugMessageCallback(nullptr, nullptr);
}

std::vector<std::string> DebugMessages::all() const {
  std::vector<std::string> messages = *said_;
  for (GLenum error = glGetError(); error != GL_NO_ERROR; error = glGetError())
    messages.push_back(fmt::format("OpenGL error 0x{:04x}", error));
  return messages;
}

}  // namespace petalproof::gl
