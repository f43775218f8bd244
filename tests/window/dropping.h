#pragma once
// Messages that other programs send to a window: files dropped onto it, by X's drag and drop (XDND, version
// 5; freedesktop.org), and the window manager's that it is closed (ICCCM, version 2, WM_DELETE_WINDOW).

#include <filesystem>
#include <string>
#include <vector>

namespace petalproof::window_test {

// Drops the files onto the window of that name at a place on the screen. False where the window doesn't take
// them, or isn't there.
bool dropFiles(const std::string& display, const std::string& window_name,
               const std::vector<std::filesystem::path>& files, int x, int y);

// False where the window isn't there.
bool closeWindow(const std::string& display, const std::string& window_name);

}  // namespace petalproof::window_test
