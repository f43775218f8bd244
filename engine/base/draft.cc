#include "engine/base/draft.h"

#include "engine/base/error_text.h"
#include "engine/base/stopping.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <random>
#include <system_error>
#include <utility>
#include <vector>

namespace petalproof {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view name_start = ".petalproof-";
constexpr std::string_view name_end = ".part";
constexpr std::size_t name_digits = 8;
constexpr std::size_t written_at_once = std::size_t{1} << 20;

fs::path folderOf(const fs::path& file) {
  return file.has_parent_path() ? file.parent_path() : fs::path(".");
}

bool writeAll(const FileCalls& calls, int file, std::string_view bytes, const std::function<bool()>& goesOn) {
  while (!bytes.empty()) {
    if (goesOn && !goesOn()) throw Stopped{};
    const ssize_t written = calls.write(file, bytes.data(), std::min(bytes.size(), written_at_once));
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

void syncFolder(const fs::path& folder) {
  const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (file < 0) return;
  ::fsync(file);
  ::close(file);
}

// A file system that has no such way to rename.
bool renameUnknown(int error) { return error == EINVAL || error == ENOSYS || error == ENOTSUP; }

// The open file is on the disk and no other program holds it.
bool lockedOnDisk(int file) {
  struct stat status = {};
  ::flock(file, LOCK_EX);  // in vain where the file system has no locks
  return ::fstat(file, &status) != 0 || status.st_nlink > 0;
}

// A draft of this user that no program holds: removed.
void removeIfLeft(const fs::path& draft) {
  const int file = ::open(draft.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
  if (file < 0) return;
  struct stat status = {};
  const bool ours = ::fstat(file, &status) == 0 && S_ISREG(status.st_mode) && status.st_uid == ::geteuid();
  if (ours && ::flock(file, LOCK_EX | LOCK_NB) == 0) ::unlink(draft.c_str());
  ::close(file);
}

}  // namespace

bool syncSucceeded(int outcome) { return outcome == 0 || errno == EINVAL || errno == EROFS; }

FileCalls systemCalls() {
  FileCalls calls;
  calls.open = [](const char* path, int flags, mode_t mode) { return ::open(path, flags, mode); };
  calls.write = [](int file, const void* bytes, std::size_t count) { return ::write(file, bytes, count); };
  calls.sync = [](int file) { return ::fsync(file); };
  calls.rename = [](const char* from, const char* to, unsigned flags) {
    return ::renameat2(AT_FDCWD, from, AT_FDCWD, to, flags);
  };
  calls.make_folder = [](const char* folder, mode_t mode) { return ::mkdir(folder, mode); };
  return calls;
}

Draft::Draft(fs::path target, FileCalls calls) : target_(std::move(target)), calls_(std::move(calls)) {}

Draft::~Draft() {
  undo();
  if (file_ >= 0) ::close(file_);
}

// 0, or what is wrong.
int Draft::make(mode_t mode) {
  std::random_device random;
  for (int attempt = 0; attempt < 100; ++attempt) {
    path_ = folderOf(target_) / fmt::format("{}{:08x}{}", name_start, random(), name_end);
    file_ = calls_.open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (file_ < 0 && (errno == EEXIST || errno == EINTR)) continue;
    if (file_ < 0) return errno;
    // Between making and locking it another program may have taken it for a left one.
    if (lockedOnDisk(file_)) {
      state_ = State::beside;
      return 0;
    }
    ::close(std::exchange(file_, -1));
  }
  return EEXIST;
}

std::optional<std::string> Draft::write(std::string_view bytes, std::optional<mode_t> permissions,
                                        const std::function<bool()>& goesOn) {
  // Bytes of a file that few may read are never in a draft that all may read.
  if (const int error = make(permissions ? 0600 : most_)) return errorText(error);
  if (permissions) ::fchmod(file_, *permissions);
  if (!writeAll(calls_, file_, bytes, goesOn)) return errorText(errno);
  return syncSucceeded(calls_.sync(file_)) ? std::nullopt : std::optional(errorText(errno));
}

std::optional<std::string> Draft::placeNew() {
  if (calls_.rename(path_.c_str(), target_.c_str(), RENAME_NOREPLACE) != 0) {
    if (!renameUnknown(errno)) return errorText(errno);
    // A second name fails in the same way where the target is there.
    if (::link(path_.c_str(), target_.c_str()) != 0) return errorText(errno);
    ::unlink(path_.c_str());
  }
  state_ = State::placed_new;
  return std::nullopt;
}

std::optional<std::string> Draft::placeOver(const WhyNot& why_not) {
  if (!why_not) return placeOverAny();
  struct stat status = {};
  if (::lstat(target_.c_str(), &status) != 0 && errno == ENOENT) return placeNew();
  if (auto wrong = why_not(target_)) return wrong;
  if (calls_.rename(path_.c_str(), target_.c_str(), RENAME_EXCHANGE) == 0) {
    state_ = State::exchanged;  // the old file has the draft's name now
    auto wrong = why_not(path_);
    if (wrong) undo();
    return wrong;
  }
  if (errno == ENOENT) return placeNew();
  if (!renameUnknown(errno)) return errorText(errno);
  return placeOverAny();
}

std::optional<std::string> Draft::placeOverAny() {
  if (calls_.rename(path_.c_str(), target_.c_str(), 0) != 0) return errorText(errno);
  state_ = State::placed_over;
  return std::nullopt;
}

void Draft::keep() {
  if (state_ == State::exchanged) ::unlink(path_.c_str());
  const bool placed = state_ != State::none && state_ != State::beside;
  if (!placed) return;
  state_ = State::none;
  syncFolder(folderOf(target_));
}

void Draft::undo() {
  const State state = std::exchange(state_, State::none);
  if (state == State::placed_new) {
    // Only the file that was placed is removed, not a file that came since.
    struct stat ours = {};
    struct stat there = {};
    const bool same = ::fstat(file_, &ours) == 0 && ::lstat(target_.c_str(), &there) == 0 &&
                      ours.st_dev == there.st_dev && ours.st_ino == there.st_ino;
    if (same) ::unlink(target_.c_str());
  } else if (state == State::exchanged) {
    if (::renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, target_.c_str(), RENAME_EXCHANGE) == 0)
      ::unlink(path_.c_str());
    else
      ::rename(path_.c_str(), target_.c_str());
  } else if (state == State::beside) {
    ::unlink(path_.c_str());
  }
}

bool isDraftName(std::string_view name) {
  if (name.size() != name_start.size() + name_digits + name_end.size()) return false;
  const std::string_view digits = name.substr(name_start.size(), name_digits);
  return name.starts_with(name_start) && name.ends_with(name_end) &&
         digits.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

void removeLeftDrafts(const fs::path& folder) {
  std::error_code error;
  std::vector<fs::path> drafts;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error))
    if (isDraftName(entry->path().filename().string())) drafts.push_back(entry->path());
  for (const fs::path& draft : drafts) removeIfLeft(draft);
}

}  // namespace petalproof
