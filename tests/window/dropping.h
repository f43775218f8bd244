#pragma once
// Files dropped onto a window from another program's, by X's drag and drop (XDND, version 5;
// freedesktop.org).

#include <filesystem>
#include <string>
#include <vector>

namespace petalproof::window_test {

// Drops the files onto the window of that name at a place on the screen. False where the window doesn't take
// them, or isn't there.
bool dropFiles(const std::string& display, const std::string& window_name,
               const std::vector<std::filesystem::path>& files, int x, int y);

}  // namespace petalproof::window_test
