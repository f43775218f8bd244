#pragma once
// Watches the plan's file: notices that any program wrote, replaced, moved or removed it. The session makes a
// watch for each plan that it opens.

#include <filesystem>
#include <functional>
#include <memory>

namespace petalproof::app {

class FileWatch {
 public:
  // `wake`: called from the watch's thread when the file changed; may be empty. Where the system can't watch
  // the file's folder, no change is ever noticed.
  explicit FileWatch(const std::filesystem::path& file, std::function<void()> wake);
  ~FileWatch();
  FileWatch(const FileWatch&) = delete;
  FileWatch& operator=(const FileWatch&) = delete;

  // True where the file changed since the last call, also by this program.
  bool takeChange();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace petalproof::app
