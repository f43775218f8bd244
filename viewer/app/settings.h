#pragma once
// What is remembered from one session to the next.

#include "viewer/app/state.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::app {

struct Settings {
  bool dark = false;
  double scale = 0;                           // 0: as the monitor says
  std::vector<std::filesystem::path> recent;  // plans, the latest first
  friend bool operator==(const Settings&, const Settings&) = default;
};

std::string settingsText(const Settings& settings);
// What can't be read is left out: settings of another version, or a file that somebody changed.
Settings settingsFrom(std::string_view text);

// With that plan as the latest; at most ten.
Settings withRecent(Settings settings, const std::filesystem::path& path);

// The usual settings where there is no file. Saving that fails is no trouble: nothing of the work is lost.
Settings loadSettings(const std::filesystem::path& state_folder);
void saveSettings(const Settings& settings, const std::filesystem::path& state_folder);

}  // namespace petalproof::app
