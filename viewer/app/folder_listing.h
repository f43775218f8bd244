#pragma once
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

// What a folder holds for a maker: folders first, then files that end in one of `endings` (".toml"), each by
// name without regard to case; hidden ones are left out. Problems: a folder that can't be read.
Result<std::vector<FolderEntry>> listFolder(const std::filesystem::path& folder,
                                            const std::vector<std::string>& endings);

}  // namespace petalproof::app
