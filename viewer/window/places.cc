#include "viewer/window/places.h"

#include <array>
#include <cstdlib>
#include <system_error>

namespace petalproof::window {
namespace fs = std::filesystem;

fs::path stateFolder() {
  if (const char* const given = std::getenv("XDG_STATE_HOME"); given != nullptr && *given == '/')
    return fs::path(given) / "petalproof";
  if (const char* const home = std::getenv("HOME"); home != nullptr && *home == '/')
    return fs::path(home) / ".local/state/petalproof";
  return {};
}

fs::path homeFolder() {
  std::error_code none;
  const char* const home = std::getenv("HOME");
  return home != nullptr && *home == '/' ? fs::path(home) : fs::current_path(none);
}

fs::path assetsFolder() {
  std::error_code none;
  const fs::path program = fs::read_symlink("/proc/self/exe", none).parent_path();
  // Installed, or in a build folder of the repository.
  const std::array<fs::path, 3> candidates{program / "assets", program / "../share/petalproof",
                                           program / "../../../assets"};
  for (const fs::path& candidate : candidates)
    if (fs::exists(candidate / "plans/demo.toml", none)) return fs::weakly_canonical(candidate, none);
  return {};
}

}  // namespace petalproof::window
