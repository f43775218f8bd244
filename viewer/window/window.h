#pragma once
#include <filesystem>
#include <optional>
#include <string>

namespace petalproof::window {

struct WindowOptions {
  std::filesystem::path plan;  // empty: the start page
  int threads = 0;             // of the checks; 0: as many as the machine has
};

// Opens the window and stays until it is closed. What went wrong; nothing where all went well.
std::optional<std::string> runWindow(const WindowOptions& options);

}  // namespace petalproof::window
