#pragma once
// Joins the continued lines of OBJ files, for the scan and the loader.

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>

namespace petalproof::scene {

// The text with each "\" at the end of a line, and the line end behind it, turned into blanks.
inline std::string withJoinedLines(std::string_view text) {
  std::string joined(text);
  for (std::size_t at = joined.find('\\'); at != std::string::npos; at = joined.find('\\', at + 1)) {
    std::size_t end = at + 1;
    if (end < joined.size() && joined[end] == '\r') ++end;
    if (end < joined.size() && joined[end] == '\n') ++end;
    if (end == at + 1) continue;
    std::fill(joined.begin() + static_cast<std::ptrdiff_t>(at),
              joined.begin() + static_cast<std::ptrdiff_t>(end), ' ');
  }
  return joined;
}

}  // namespace petalproof::scene
