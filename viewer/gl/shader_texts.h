#pragma once
#include <string_view>

namespace petalproof::gl {

// The text of a file in the folder of shaders; empty for any other name.
std::string_view shaderText(std::string_view file_name);

}  // namespace petalproof::gl
