#pragma once
// A program of OpenGL, linked from the files of shaders/, with setters for its uniforms. All drawing of this
// folder goes through it.

#include "viewer/gl/handle.h"

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <glm/vec4.hpp>

#include <initializer_list>
#include <string_view>

namespace petalproof::gl {

// A vertex and a fragment shader, each made of a file of shaders/ or of several files joined.
class Program {
 public:
  using Files = std::initializer_list<std::string_view>;
  // Throws std::runtime_error with the driver's words where a shader doesn't compile or link.
  Program(Files vertex_files, Files fragment_files);

  void use() const { glUseProgram(name_.name()); }

  // Sets a uniform of the program in use; a name that the program lacks is ignored.
  void set(const char* uniform, int value) const;
  void set(const char* uniform, float value) const;
  void set(const char* uniform, const glm::vec2& value) const;
  void set(const char* uniform, const glm::vec3& value) const;
  void set(const char* uniform, const glm::vec4& value) const;
  void set(const char* uniform, const glm::mat4& value) const;
  GLint location(const char* uniform) const { return glGetUniformLocation(name_.name(), uniform); }

 private:
  ProgramName name_;
};

}  // namespace petalproof::gl
