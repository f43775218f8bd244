#pragma once
// Lists a folder for the window's file chooser.

#include "engine/base/problem.h"

#include <filesystem>
#include <string>
#include <vector>

namespace petalproof::app {

struct FolderEntry {
  std::string name;
  bool is_folder = false;
  friend bool operator==(const FolderEntry&, const FolderEntry&) = default;
};

// Folders first, then files whose ending is in `endings` (".toml"), each sorted by name without regard to
// case. Hidden entries are left out. Problems: the folder can't be read.
Result<std::vector<FolderEntry>> listFolder(const std::filesystem::path& folder,
                                            const std::vector<std::string>& endings);

}  // namespace petalproof::app
