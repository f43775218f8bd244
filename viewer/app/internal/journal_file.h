#pragma once
// A journal's file. Nothing here trusts a name: a link is never followed, a pipe or a device never waited at,
// and a file that was not made as a journal is never written to or removed.

#include "viewer/app/plan_file.h"

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::app {

// A file descriptor; closed at the end of its life.
class OpenFile {
 public:
  OpenFile() = default;
  explicit OpenFile(int descriptor) : descriptor_(descriptor) {}
  OpenFile(OpenFile&& other) noexcept;
  OpenFile& operator=(OpenFile&& other) noexcept;
  ~OpenFile();

  bool isOpen() const { return descriptor_ >= 0; }
  int descriptor() const { return descriptor_; }

 private:
  int descriptor_ = -1;
};

// The journal that a living window writes. It is locked while it is open. Problems are why something failed,
// in plain words.
class JournalFile {
 public:
  bool isOpen() const { return file_.isOpen(); }
  const std::filesystem::path& path() const { return path_; }
  std::size_t bytes() const { return bytes_; }

  // Makes a journal of `text`, whole and on the disk, under the first of `names` that is free in `folder`. It
  // takes the place of `before` where that has the name. Not open where that fails; then `problem` says why.
  static JournalFile make(const std::filesystem::path& folder, const std::vector<std::string>& names,
                          std::string_view text, const JournalFile& before, std::string& problem);

  // False once another program moved, removed or wrote to the file.
  bool isUnchanged() const;
  // Unchanged, and the disk never failed to confirm what was written.
  bool isSound() const { return isUnchanged() && !doubt_; }
  // Adds a record to an unchanged file. Where that fails the file ends with the record before, unless the
  // disk didn't confirm the record.
  std::optional<std::string> append(std::string_view record, bool to_disk);
  // Sees to it that the file's name is on the disk, too.
  std::optional<std::string> syncFolder();
  // Takes the file away if it still is the one that was made here.
  void remove();

 private:
  bool isInPlace() const;

  OpenFile file_;
  std::filesystem::path path_;
  std::size_t bytes_ = 0;             // of whole records; what is behind them is torn
  std::optional<FileStamp> stamp_;    // after the last write
  bool torn_ = false;                 // a part of a record couldn't be cut off
  std::optional<std::string> doubt_;  // why a sync failed: what was written may never reach the disk
  bool folder_synced_ = false;
};

struct JournalBytes {
  std::string bytes;
  FileStamp stamp;
};

// The bytes of a journal that no living window holds. Nothing for what isn't a file of its own, and for files
// larger than `most_bytes`.
std::optional<JournalBytes> readJournal(const std::filesystem::path& path, std::size_t most_bytes);
// Removes a journal that was read, unless the file is another one by now or was written to since.
void removeJournal(const std::filesystem::path& path, const FileStamp& as_read);

}  // namespace petalproof::app
