#pragma once
// Runs the window: opens it, draws frames and performs actions until it is closed. The program calls it when
// it is started without a command.

#include <filesystem>
#include <optional>
#include <string>

namespace petalproof::window {

struct WindowOptions {
  std::filesystem::path plan;  // empty: the start page
  int threads = 0;             // of the checks; 0: as many as the machine has
};

// Returns when the window is closed: nothing, or why it couldn't be opened.
std::optional<std::string> runWindow(const WindowOptions& options);

}  // namespace petalproof::window
