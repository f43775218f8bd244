#include "viewer/app/folder_listing.h"

#include <algorithm>
#include <cctype>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return text;
}

bool before(const FolderEntry& a, const FolderEntry& b) {
  if (a.is_folder != b.is_folder) return a.is_folder;
  const std::string lower_a = lower(a.name);
  const std::string lower_b = lower(b.name);
  return lower_a != lower_b ? lower_a < lower_b : a.name < b.name;
}

}  // namespace

Result<std::vector<FolderEntry>> listFolder(const fs::path& folder, const std::vector<std::string>& endings) {
  std::error_code error;
  std::vector<FolderEntry> entries;
  fs::directory_iterator at(folder, error);
  if (error)
    return Result<std::vector<FolderEntry>>::failure(Place{folder.string()},
                                                     "can't be read: " + error.message());
  for (; at != fs::directory_iterator(); at.increment(error)) {
    const std::string name = at->path().filename().string();
    if (name.starts_with('.')) continue;
    const bool is_folder = at->is_directory(error);
    const std::string ending = lower(at->path().extension().string());
    if (!is_folder && std::find(endings.begin(), endings.end(), ending) == endings.end()) continue;
    entries.push_back({name, is_folder});
  }
  std::sort(entries.begin(), entries.end(), before);
  return Result<std::vector<FolderEntry>>::success(std::move(entries));
}

}  // namespace petalproof::app
