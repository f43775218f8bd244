#include "viewer/gl/program.h"

#include "viewer/gl/shader_texts.h"

#include <fmt/format.h>

#include <array>
#include <stdexcept>
#include <string>

namespace petalproof::gl {
namespace {

constexpr std::size_t longest_log = 1024;  // of a compiler's messages, for a person to read
constexpr const char* version_line = "#version 330 core\n";

std::string textOf(Program::Files files) {
  std::string text = version_line;
  for (const std::string_view file : files) {
    const std::string_view part = shaderText(file);
    if (part.empty()) throw std::runtime_error(fmt::format("the program has no shader {}", file));
    text += part;
  }
  return text;
}

// Compiles a shader and attaches it to `program`, which then owns it.
void attach(GLuint program, GLenum stage, Program::Files files) {
  const std::string text = textOf(files);
  const char* const start = text.c_str();
  const GLuint shader = glCreateShader(stage);
  glShaderSource(shader, 1, &start, nullptr);
  glCompileShader(shader);
  GLint status = GL_FALSE;
  glGetShaderiv(shader, GL_COMPILE_STATUS, &status);
  std::array<char, longest_log> words{};
  if (status == GL_FALSE) glGetShaderInfoLog(shader, words.size(), nullptr, words.data());
  glAttachShader(program, shader);
  glDeleteShader(shader);  // lives as long as it is attached
  if (status == GL_FALSE)
    throw std::runtime_error(
        fmt::format("OpenGL doesn't take the shader {}: {}", *(files.end() - 1), words.data()));
}

}  // namespace

Program::Program(Files vertex_files, Files fragment_files) : name_(ProgramName::make()) {
  attach(name_.name(), GL_VERTEX_SHADER, vertex_files);
  attach(name_.name(), GL_FRAGMENT_SHADER, fragment_files);
  glLinkProgram(name_.name());
  GLint status = GL_FALSE;
  glGetProgramiv(name_.name(), GL_LINK_STATUS, &status);
  if (status == GL_TRUE) return;
  std::array<char, longest_log> words{};
  glGetProgramInfoLog(name_.name(), words.size(), nullptr, words.data());
  throw std::runtime_error(
      fmt::format("OpenGL doesn't link the shader {}: {}", *(fragment_files.end() - 1), words.data()));
}

void Program::set(const char* uniform, int value) const { glUniform1i(location(uniform), value); }
void Program::set(const char* uniform, float value) const { glUniform1f(location(uniform), value); }
void Program::set(const char* uniform, const glm::vec2& value) const {
  glUniform2fv(location(uniform), 1, &value.x);
}
void Program::set(const char* uniform, const glm::vec3& value) const {
  glUniform3fv(location(uniform), 1, &value.x);
}
void Program::set(const char* uniform, const glm::vec4& value) const {
  glUniform4fv(location(uniform), 1, &value.x);
}
void Program::set(const char* uniform, const glm::mat4& value) const {
  glUniformMatrix4fv(location(uniform), 1, GL_FALSE, &value[0].x);
}

}  // namespace petalproof::gl
