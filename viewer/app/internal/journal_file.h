#pragma once
// A journal's file, for Journal (journal.h): makes, appends to, reads and removes it. No file name is
// trusted: a link is never followed, no call waits at a pipe or a device, and a file that was not made as a
// journal is never written to or removed.

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

// The journal that a session writes, locked while it is open. Failures are returned as the reason in plain
// words.
class JournalFile {
 public:
  bool isOpen() const { return file_.isOpen(); }
  const std::filesystem::path& path() const { return path_; }
  std::size_t bytes() const { return bytes_; }

  // Makes a journal with `text`, whole and on the disk, under the first of `names` that is free in `folder`.
  // A name that the journal `before` has counts as free: the new file replaces it. Not open where that fails;
  // `problem` then holds the reason.
  static JournalFile make(const std::filesystem::path& folder, const std::vector<std::string>& names,
                          std::string_view text, const JournalFile& before, std::string& problem);

  // False once another program moved, removed or wrote to the file.
  bool isUnchanged() const;
  // Unchanged, and the disk confirmed every record that it was asked to.
  bool isSound() const { return isUnchanged() && !doubt_; }
  // Appends a record to an unchanged file. Returns nothing, or why the record isn't safe: the file then ends
  // with the record before, or, where the disk didn't confirm the write, with this record.
  std::optional<std::string> append(std::string_view record, bool to_disk);
  // Writes the file's entry in its folder to the disk.
  std::optional<std::string> syncFolder();
  // Removes the file if it still is the file that this object made.
  void remove();

 private:
  bool isInPlace() const;

  OpenFile file_;
  std::filesystem::path path_;
  std::size_t bytes_ = 0;             // of whole records; bytes after them belong to a torn record
  std::optional<FileStamp> stamp_;    // after the last write
  bool torn_ = false;                 // the file ends with a torn record that couldn't be cut off
  std::optional<std::string> doubt_;  // why a sync failed: written bytes may never reach the disk
  bool folder_synced_ = false;
};

struct JournalBytes {
  std::string bytes;
  FileStamp stamp;
};

// The bytes of a journal. Nothing where a running program holds it, for links, folders, pipes and devices,
// and for files larger than `most_bytes`.
std::optional<JournalBytes> readJournal(const std::filesystem::path& path, std::size_t most_bytes);
// Removes a journal that was read, unless its file was replaced or written to since.
void removeJournal(const std::filesystem::path& path, const FileStamp& as_read);

}  // namespace petalproof::app
