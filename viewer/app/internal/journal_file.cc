#include "viewer/app/internal/journal_file.h"

#include "engine/base/draft.h"
#include "engine/base/error_text.h"
#include "engine/base/file.h"
#include "engine/base/write_all.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <random>
#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

bool writeAllAt(int file, std::string_view bytes, std::size_t at) {
  return writeAll(bytes, [&](std::string_view rest) {
    return ::pwrite(file, rest.data(), rest.size(), static_cast<off_t>(at + bytes.size() - rest.size()));
  });
}

bool folderSynced(const fs::path& folder) {
  const OpenFile file(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  return file.isOpen() && syncSucceeded(::fsync(file.descriptor()));
}

std::optional<FileStamp> stampOf(const OpenFile& file) {
  struct stat status = {};
  if (!file.isOpen() || ::fstat(file.descriptor(), &status) != 0) return std::nullopt;
  return stampFrom(status);
}

// The stamp of a regular file; nothing for a link, a folder or a pipe.
std::optional<FileStamp> stampOfFile(const fs::path& path) {
  struct stat status = {};
  if (::lstat(path.c_str(), &status) != 0 || !S_ISREG(status.st_mode)) return std::nullopt;
  return stampFrom(status);
}

bool isSameFile(const std::optional<FileStamp>& a, const std::optional<FileStamp>& b) {
  return a && b && a->device == b->device && a->file == b->file;
}

// A file under a provisional name. Removed at the end of this object's life unless it got its final name.
class JournalDraft {
 public:
  explicit JournalDraft(const fs::path& folder) {
    std::random_device random;
    constexpr int most_tries = 100;  // names; with 32 random bits even the second try is rare
    for (int attempt = 0; attempt < most_tries && !file_.isOpen(); ++attempt) {
      path_ = folder / fmt::format(".petalproof-{:08x}.part", random());
      file_ = OpenFile(::open(path_.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600));
      if (!file_.isOpen() && errno != EEXIST) break;
    }
    provisional_ = file_.isOpen();
  }
  JournalDraft(const JournalDraft&) = delete;
  JournalDraft& operator=(const JournalDraft&) = delete;
  ~JournalDraft() {
    if (provisional_) ::unlink(path_.c_str());
  }

  const OpenFile& file() const { return file_; }
  OpenFile takeFile() { return std::move(file_); }

  bool write(std::string_view text) {
    return file_.isOpen() && ::flock(file_.descriptor(), LOCK_EX | LOCK_NB) == 0 &&
           writeAllAt(file_.descriptor(), text, 0) && syncSucceeded(::fsync(file_.descriptor()));
  }

  // False, with errno EEXIST, where the name is taken.
  bool takeFreeName(const fs::path& name) {
    if (::renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, name.c_str(), RENAME_NOREPLACE) == 0) {
      provisional_ = false;
      return true;
    }
    // File systems without RENAME_NOREPLACE: adds the name as a hard link; the provisional name goes with
    // this object.
    return (errno == EINVAL || errno == ENOSYS) && ::link(path_.c_str(), name.c_str()) == 0;
  }

  bool replace(const fs::path& name) {
    if (::rename(path_.c_str(), name.c_str()) != 0) return false;
    provisional_ = false;
    return true;
  }

 private:
  fs::path path_;
  OpenFile file_;
  bool provisional_ = false;
};

// Opens a regular file without following a link and without waiting at a pipe.
OpenFile openedToRead(const fs::path& path) {
  const auto by_name = stampOfFile(path);
  if (!by_name) return {};
  OpenFile file(::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC));
  if (!isSameFile(by_name, stampOf(file))) return {};
  // A running program's journal is locked.
  if (::flock(file.descriptor(), LOCK_SH | LOCK_NB) != 0) return {};
  return file;
}

}  // namespace

OpenFile::OpenFile(OpenFile&& other) noexcept : descriptor_(std::exchange(other.descriptor_, -1)) {}

OpenFile& OpenFile::operator=(OpenFile&& other) noexcept {
  std::swap(descriptor_, other.descriptor_);
  return *this;
}

OpenFile::~OpenFile() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

JournalFile JournalFile::make(const fs::path& folder, const std::vector<std::string>& names,
                              std::string_view text, const JournalFile& before, std::string& problem) {
  JournalDraft draft(folder);
  if (!draft.write(text)) {
    problem = errorText(errno);
    return {};
  }
  for (const std::string& name : names) {
    const fs::path path = folder / name;
    const bool is_ours = before.path() == path && before.isInPlace();
    if (!(is_ours ? draft.replace(path) : draft.takeFreeName(path))) {
      const int error = errno;
      problem = errorText(error);
      if (error == EEXIST) continue;
      return {};
    }
    JournalFile made;
    made.file_ = draft.takeFile();
    made.path_ = path;
    made.bytes_ = text.size();
    made.stamp_ = stampOf(made.file_);
    return made;
  }
  return {};
}

bool JournalFile::isInPlace() const { return isSameFile(stampOf(file_), stampOfFile(path_)); }

bool JournalFile::isUnchanged() const { return isInPlace() && stampOfFile(path_) == stamp_; }

std::optional<std::string> JournalFile::append(std::string_view record, bool to_disk) {
  const auto end = static_cast<off_t>(bytes_);
  if (torn_ && ::ftruncate(file_.descriptor(), end) != 0) return errorText(errno);
  torn_ = false;
  if (!writeAllAt(file_.descriptor(), record, bytes_)) {
    const int error = errno;
    torn_ = ::ftruncate(file_.descriptor(), end) != 0;
    stamp_ = stampOf(file_);
    return errorText(error);
  }
  bytes_ += record.size();
  // After a failed sync a second sync may succeed though the bytes are lost: only a new file can be trusted.
  if (to_disk && !syncSucceeded(::fdatasync(file_.descriptor()))) doubt_ = errorText(errno);
  stamp_ = stampOf(file_);
  return doubt_;
}

std::optional<std::string> JournalFile::syncFolder() {
  if (!folder_synced_) folder_synced_ = folderSynced(path_.parent_path());
  return folder_synced_ ? std::nullopt : std::optional(errorText(errno));
}

void JournalFile::remove() {
  // In a folder that can't be changed any more the file stays, but empty.
  const bool gone = isInPlace() && (::unlink(path_.c_str()) == 0 || ::ftruncate(file_.descriptor(), 0) == 0);
  if (gone) folderSynced(path_.parent_path());
  *this = JournalFile();
}

std::optional<JournalBytes> readJournal(const fs::path& path, std::size_t most_bytes) {
  const OpenFile file = openedToRead(path);
  const auto stamp = stampOf(file);
  if (!stamp || stamp->bytes > most_bytes) return std::nullopt;
  JournalBytes journal{std::string(stamp->bytes, '\0'), *stamp};
  std::size_t filled = 0;
  while (filled < journal.bytes.size()) {
    const ssize_t count = ::pread(file.descriptor(), journal.bytes.data() + filled,
                                  journal.bytes.size() - filled, static_cast<off_t>(filled));
    if (count < 0 && errno == EINTR) continue;
    if (count < 0) return std::nullopt;
    if (count == 0) break;
    filled += static_cast<std::size_t>(count);
  }
  journal.bytes.resize(filled);
  return journal;
}

void removeJournal(const fs::path& path, const FileStamp& as_read) {
  const OpenFile file = openedToRead(path);
  if (stampOf(file) != as_read || ::unlink(path.c_str()) != 0) return;
  folderSynced(path.parent_path());
}

}  // namespace petalproof::app
