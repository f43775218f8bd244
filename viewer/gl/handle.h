#pragma once
// OpenGL's names (buffers, textures, programs) as values that own their objects. Everything in this folder
// needs a current context of OpenGL 3.3 core throughout its life: the context in which it was made.

#include <epoxy/gl.h>

#include <utility>

namespace petalproof::gl {

// `Kind` makes and deletes the object; the name 0 owns nothing.
template <class Kind>
class Handle {
 public:
  Handle() = default;
  static Handle make() {
    Handle handle;
    handle.name_ = Kind::make();
    return handle;
  }
  ~Handle() { reset(); }
  Handle(Handle&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
  Handle& operator=(Handle&& other) noexcept {
    if (this != &other) {
      reset();
      name_ = std::exchange(other.name_, 0);
    }
    return *this;
  }
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;

  GLuint name() const { return name_; }
  explicit operator bool() const { return name_ != 0; }
  void reset() {
    if (name_ != 0) Kind::end(std::exchange(name_, 0));
  }

 private:
  GLuint name_ = 0;
};

struct BufferKind {
  static GLuint make() {
    GLuint name = 0;
    glGenBuffers(1, &name);
    return name;
  }
  static void end(GLuint name) { glDeleteBuffers(1, &name); }
};
struct VertexArrayKind {
  static GLuint make() {
    GLuint name = 0;
    glGenVertexArrays(1, &name);
    return name;
  }
  static void end(GLuint name) { glDeleteVertexArrays(1, &name); }
};
struct TextureKind {
  static GLuint make() {
    GLuint name = 0;
    glGenTextures(1, &name);
    return name;
  }
  static void end(GLuint name) { glDeleteTextures(1, &name); }
};
struct RenderbufferKind {
  static GLuint make() {
    GLuint name = 0;
    glGenRenderbuffers(1, &name);
    return name;
  }
  static void end(GLuint name) { glDeleteRenderbuffers(1, &name); }
};
struct FramebufferKind {
  static GLuint make() {
    GLuint name = 0;
    glGenFramebuffers(1, &name);
    return name;
  }
  static void end(GLuint name) { glDeleteFramebuffers(1, &name); }
};
struct ProgramKind {
  static GLuint make() { return glCreateProgram(); }
  static void end(GLuint name) {
    GLint used = 0;
    glGetIntegerv(GL_CURRENT_PROGRAM, &used);
    if (static_cast<GLuint>(used) == name) glUseProgram(0);  // OpenGL keeps a program in use alive
    glDeleteProgram(name);
  }
};

using Buffer = Handle<BufferKind>;
using VertexArray = Handle<VertexArrayKind>;
using Texture = Handle<TextureKind>;
using Renderbuffer = Handle<RenderbufferKind>;
using Framebuffer = Handle<FramebufferKind>;
using ProgramName = Handle<ProgramKind>;

}  // namespace petalproof::gl
