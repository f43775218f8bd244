#pragma once
// Notices that a file was written, replaced, moved or taken away, by whatever program.

#include <filesystem>
#include <functional>
#include <memory>

namespace petalproof::app {

class FileWatch {
 public:
  // `wake`: called from the watch's thread when something happened; may be empty. Where the system can't
  // watch the file's folder nothing is ever noticed.
  explicit FileWatch(const std::filesystem::path& file, std::function<void()> wake);
  ~FileWatch();
  FileWatch(const FileWatch&) = delete;
  FileWatch& operator=(const FileWatch&) = delete;

  // Whether something happened to it since the last call: by this program, too.
  bool takeStir();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace petalproof::app
