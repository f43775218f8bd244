#pragma once
#include <filesystem>
#include <string>

namespace petalproof::app {

// An empty folder, gone with this object.
class ScratchFolder {
 public:
  ScratchFolder();
  ~ScratchFolder();
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;

  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

std::string textIn(const std::filesystem::path& file);
void write(const std::filesystem::path& file, const std::string& text);

}  // namespace petalproof::app
