#include "viewer/app/settings.h"

#include "engine/base/file.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

constexpr std::size_t most_recent = 10;  // plans: a list that fits the start page
// Beyond these, letters are too small to read or too large for a screen.
constexpr double smallest_scale = 0.5;
constexpr double largest_scale = 4;

void readLine(std::string_view line, Settings& settings) {
  const std::size_t space = line.find(' ');
  if (space == std::string_view::npos) return;
  const std::string_view key = line.substr(0, space);
  const std::string_view value = line.substr(space + 1);
  if (key == "dark") settings.dark = value == "yes";
  if (key == "recent" && settings.recent.size() < most_recent) settings.recent.emplace_back(value);
  if (key != "scale") return;
  double scale = 0;
  const auto read = std::from_chars(value.data(), value.data() + value.size(), scale);
  if (read.ec == std::errc() && scale >= smallest_scale && scale <= largest_scale) settings.scale = scale;
}

}  // namespace

std::string settingsText(const Settings& settings) {
  std::string text = fmt::format("dark {}\nscale {}\n", settings.dark ? "yes" : "no", settings.scale);
  for (const fs::path& path : settings.recent)
    if (path.string().find('\n') == std::string::npos) text += fmt::format("recent {}\n", path.string());
  return text;
}

Settings settingsFrom(std::string_view text) {
  Settings settings;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    readLine(text.substr(0, end), settings);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return settings;
}

Settings withRecent(Settings settings, const fs::path& path) {
  std::erase(settings.recent, path);
  settings.recent.insert(settings.recent.begin(), path);
  settings.recent.resize(std::min(settings.recent.size(), most_recent));
  return settings;
}

Settings loadSettings(const fs::path& state_folder) {
  constexpr std::size_t most_bytes = 1 << 20;  // far beyond ten long paths
  const auto text = readFile(state_folder / "settings", most_bytes, "settings");
  return text ? settingsFrom(*text.value) : Settings{};
}

void saveSettings(const Settings& settings, const fs::path& state_folder) {
  if (state_folder.empty()) return;
  std::error_code error;
  fs::create_directories(state_folder, error);
  (void)writeFile(state_folder / "settings", settingsText(settings), Existing::replace);
}

}  // namespace petalproof::app
