#include "engine/base/file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <random>
#include <system_error>
#include <utility>

namespace petalproof {
namespace {

namespace fs = std::filesystem;

// Owns a file descriptor. The destructor closes it; close() closes it earlier and tells whether that
// succeeded.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() { close(); }

  bool open() const { return number_ >= 0; }
  int number() const { return number_; }
  bool close() {
    const int number = std::exchange(number_, -1);
    return number < 0 || ::close(number) == 0;
  }

 private:
  int number_;
};

std::string reason(int error) {
  switch (error) {
    case ENOENT: return "there is no such file or folder";
    case EACCES:
    case EPERM: return "permission denied";
    case EISDIR: return "it is a folder, not a file";
    case ENOTDIR: return "a part of its path is a file, not a folder";
    case ENOSPC:
    case EDQUOT: return "the disk is full";
    case EROFS: return "the disk is write-protected";
    case EEXIST: return "it exists already";
    case ENAMETOOLONG: return "its name is too long";
    case EFBIG: return "the file would be larger than is allowed here";
    default: return std::generic_category().message(error);
  }
}

int openRetrying(const fs::path& path, int flags, mode_t mode = 0) {
  int number = -1;
  do number = ::open(path.c_str(), flags | O_CLOEXEC, mode);
  while (number < 0 && errno == EINTR);
  return number;
}

std::string sizeText(std::size_t bytes) {
  constexpr std::size_t mebibyte = std::size_t{1} << 20;
  if (bytes >= mebibyte && bytes % mebibyte == 0) return fmt::format("{} MiB", bytes / mebibyte);
  return fmt::format("{} bytes", bytes);
}

// Reads up to `at_most` bytes; returns nothing, with errno set, if reading fails.
std::optional<std::string> readUpTo(int descriptor, std::size_t expected, std::size_t at_most) {
  std::string bytes;
  bytes.reserve(std::min(expected, at_most));
  constexpr std::size_t block_bytes = std::size_t{1} << 16;  // few calls, and small for a stack
  char buffer[block_bytes];
  while (bytes.size() < at_most) {
    const ssize_t got = ::read(descriptor, buffer, std::min(sizeof buffer, at_most - bytes.size()));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return std::nullopt;
    if (got == 0) break;
    bytes.append(buffer, static_cast<std::size_t>(got));
  }
  return bytes;
}

bool writeAll(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

// Terminals and pipes can't be synced (EINVAL, EROFS): for them this counts as done.
bool synced(int descriptor) { return ::fsync(descriptor) == 0 || errno == EINVAL || errno == EROFS; }

// A temporary file in the target's folder. The destructor deletes it unless it was moved to the target.
class Draft {
 public:
  Draft(const fs::path& folder, mode_t mode) {
    std::random_device random;
    constexpr int most_attempts = 100;  // names are random: a second attempt is rare already
    for (int attempt = 0; attempt < most_attempts; ++attempt) {
      path_ = folder / fmt::format(".petalproof-{:08x}.part", random());
      descriptor_ = openRetrying(path_, O_WRONLY | O_CREAT | O_EXCL, mode);
      if (descriptor_ >= 0 || errno != EEXIST) break;
    }
    exists_ = descriptor_ >= 0;
  }
  Draft(const Draft&) = delete;
  Draft& operator=(const Draft&) = delete;
  ~Draft() {
    if (exists_) ::unlink(path_.c_str());
  }

  bool made() const { return exists_; }
  const fs::path& path() const { return path_; }
  int takeDescriptor() { return std::exchange(descriptor_, -1); }
  void movedAway() { exists_ = false; }

 private:
  fs::path path_;
  int descriptor_ = -1;
  bool exists_ = false;
};

// Renames the draft; fails with EEXIST if the target exists, even if another program has just created it.
bool moveToNew(const Draft& draft, const fs::path& target, bool& draft_left) {
  draft_left = false;
  if (::renameat2(AT_FDCWD, draft.path().c_str(), AT_FDCWD, target.c_str(), RENAME_NOREPLACE) == 0)
    return true;
  if (errno != EINVAL && errno != ENOSYS) return false;
  // This file system has no RENAME_NOREPLACE. A hard link to the draft fails with EEXIST in the same way.
  draft_left = true;
  return ::link(draft.path().c_str(), target.c_str()) == 0;
}

bool moveInto(Draft& draft, const fs::path& target, Existing existing) {
  bool draft_left = false;
  const bool moved = existing == Existing::refuse ? moveToNew(draft, target, draft_left)
                                                  : ::rename(draft.path().c_str(), target.c_str()) == 0;
  if (moved && !draft_left) draft.movedAway();
  return moved;
}

void syncFolder(const fs::path& folder) {
  const Descriptor descriptor(openRetrying(folder, O_RDONLY | O_DIRECTORY));
  if (descriptor.open()) ::fsync(descriptor.number());
}

std::optional<std::string> writeBeside(const fs::path& target, std::string_view bytes, Existing existing,
                                       std::optional<mode_t> old_mode) {
  const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
  // The draft of a file with restricted permissions is never readable by everybody.
  Draft draft(folder, old_mode ? 0600 : 0666);
  if (!draft.made()) return reason(errno);
  Descriptor descriptor(draft.takeDescriptor());
  if (old_mode) ::fchmod(descriptor.number(), *old_mode);
  if (!writeAll(descriptor.number(), bytes) || !synced(descriptor.number())) return reason(errno);
  if (!descriptor.close()) return reason(errno);
  if (!moveInto(draft, target, existing)) return reason(errno);
  syncFolder(folder);
  return std::nullopt;
}

// Writes to a terminal, a pipe or a device, which can't be replaced by a new file.
std::optional<std::string> writeThrough(const fs::path& path, std::string_view bytes) {
  Descriptor descriptor(openRetrying(path, O_WRONLY));
  if (!descriptor.open()) return reason(errno);
  if (!writeAll(descriptor.number(), bytes) || !descriptor.close()) return reason(errno);
  return std::nullopt;
}

}  // namespace

Result<std::string> readFile(const fs::path& path, std::size_t limit_bytes, const std::string& shownAs) {
  const auto failure = [&](const std::string& why) {
    return Result<std::string>::failure(Place{shownAs}, why);
  };
  const Descriptor descriptor(openRetrying(path, O_RDONLY));
  if (!descriptor.open()) return failure("can't be read: " + reason(errno));
  struct stat status = {};
  if (::fstat(descriptor.number(), &status) != 0) return failure("can't be read: " + reason(errno));
  if (S_ISDIR(status.st_mode)) return failure("can't be read: " + reason(EISDIR));
  const auto size = static_cast<std::size_t>(status.st_size);
  const std::string too_large = fmt::format("is too large, at most {} are read", sizeText(limit_bytes));
  if (size > limit_bytes) return failure(too_large);
  auto bytes = readUpTo(descriptor.number(), size, limit_bytes + 1);
  if (!bytes) return failure("can't be read: " + reason(errno));
  if (bytes->size() > limit_bytes) return failure(too_large);
  return Result<std::string>::success(std::move(*bytes));
}

std::optional<std::string> writeFile(const fs::path& path, std::string_view bytes, Existing existing) {
  struct stat status = {};
  if (::stat(path.c_str(), &status) != 0) return writeBeside(path, bytes, existing, std::nullopt);
  if (S_ISDIR(status.st_mode)) return reason(EISDIR);
  if (existing == Existing::refuse) return reason(EEXIST);
  if (!S_ISREG(status.st_mode)) return writeThrough(path, bytes);
  std::error_code error;
  const fs::path target = fs::canonical(path, error);  // a link keeps pointing at the file
  if (error) return reason(error.value());
  return writeBeside(target, bytes, existing, static_cast<mode_t>(status.st_mode & 07777U));
}

std::optional<std::string> writeNewFile(const fs::path& path, std::string_view bytes, fs::perms permissions) {
  return writeBeside(path, bytes, Existing::refuse, static_cast<mode_t>(permissions & fs::perms::mask));
}

std::string reasonFor(int error_number) { return reason(error_number); }

}  // namespace petalproof
