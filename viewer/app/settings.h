#pragma once
// Settings that outlast a session: colours, scale and recent plans, with their file in the state folder. The
// session loads them at its start and saves them when they change.

#include "viewer/app/state.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::app {

struct Settings {
  bool dark = false;
  double scale = 0;                           // 0: the monitor's scale
  std::vector<std::filesystem::path> recent;  // plans, the latest first
  friend bool operator==(const Settings&, const Settings&) = default;
};

std::string settingsText(const Settings& settings);
// Lines that can't be read, such as those of another version, keep the usual setting.
Settings settingsFrom(std::string_view text);

// With that plan as the latest of at most ten.
Settings withRecent(Settings settings, const std::filesystem::path& path);

// Loads the usual settings where there is no file. A failure to save is ignored: no work is lost by it.
Settings loadSettings(const std::filesystem::path& state_folder);
void saveSettings(const Settings& settings, const std::filesystem::path& state_folder);

}  // namespace petalproof::app
