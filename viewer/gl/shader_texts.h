#pragma once
// The shaders, built into the program. Program (program.h) reads them; CMake makes the source from shaders/.

#include <string_view>

namespace petalproof::gl {

// The text of a file of shaders/; empty for an unknown name.
std::string_view shaderText(std::string_view file_name);

}  // namespace petalproof::gl
