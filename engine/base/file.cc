#include "engine/base/file.h"

#include "engine/base/draft.h"
#include "engine/base/error_text.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
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

std::optional<std::string> writeBeside(const fs::path& target, std::string_view bytes, Existing existing,
                                       std::optional<mode_t> old_mode) {
  Draft draft(target);
  if (auto wrong = draft.write(bytes, old_mode)) return wrong;
  auto wrong = existing == Existing::refuse ? draft.placeNew() : draft.placeOver({});
  if (!wrong) draft.keep();
  return wrong;
}

// Writes to a terminal, a pipe or a device, which can't be replaced by a new file.
std::optional<std::string> writeThrough(const fs::path& path, std::string_view bytes) {
  Descriptor descriptor(openRetrying(path, O_WRONLY));
  if (!descriptor.open()) return errorText(errno);
  if (!writeAll(descriptor.number(), bytes) || !descriptor.close()) return errorText(errno);
  return std::nullopt;
}

// "/dev/stdin", "/dev/fd/63": a descriptor that the program was started with. That it is a pipe is the
// caller's wish.
bool namesDescriptor(const fs::path& path) {
  const std::string text = path.lexically_normal().string();
  return text == "/dev/stdin" || text.starts_with("/dev/fd/") || text.starts_with("/proc/self/fd/");
}

// Why a thing of this mode isn't read; nothing for a file.
std::optional<std::string> whyNotRead(mode_t mode) {
  if (S_ISREG(mode)) return std::nullopt;
  if (S_ISDIR(mode)) return errorText(EISDIR);
  if (S_ISFIFO(mode)) return "it is a pipe, not a file";
  if (S_ISSOCK(mode)) return "it is a socket, not a file";
  return "it is a device, not a file";
}

}  // namespace

Result<std::string> readFile(const fs::path& path, std::size_t limit_bytes, const std::string& shownAs) {
  const auto failure = [&](const std::string& why) {
    return Result<std::string>::failure(Place{shownAs}, why);
  };
  struct stat status = {};
  // A socket can't be opened, and opening a pipe would wait for its writer.
  const Descriptor descriptor(openRetrying(path, O_RDONLY | O_NONBLOCK | O_NOCTTY));
  const bool known = descriptor.open() ? ::fstat(descriptor.number(), &status) == 0
                                       : errno == ENXIO && ::stat(path.c_str(), &status) == 0;
  if (!known) return failure("can't be read: " + errorText(errno));
  const auto why = whyNotRead(status.st_mode);
  const bool descriptor_meant = namesDescriptor(path) && descriptor.open() && !S_ISDIR(status.st_mode);
  if (why && !descriptor_meant) return failure("can't be read: " + *why);
  if (why) ::fcntl(descriptor.number(), F_SETFL, 0);  // to wait for what comes
  const auto size = static_cast<std::size_t>(status.st_size);
  const std::string too_large = fmt::format("is too large, at most {} are read", sizeText(limit_bytes));
  if (size > limit_bytes) return failure(too_large);
  auto bytes = readUpTo(descriptor.number(), size, limit_bytes + 1);
  if (!bytes) return failure("can't be read: " + errorText(errno));
  if (bytes->size() > limit_bytes) return failure(too_large);
  return Result<std::string>::success(std::move(*bytes));
}

std::optional<std::string> writeFile(const fs::path& path, std::string_view bytes, Existing existing) {
  struct stat status = {};
  if (::stat(path.c_str(), &status) != 0) return writeBeside(path, bytes, existing, std::nullopt);
  if (S_ISDIR(status.st_mode)) return errorText(EISDIR);
  if (existing == Existing::refuse) return errorText(EEXIST);
  if (!S_ISREG(status.st_mode)) return writeThrough(path, bytes);
  std::error_code error;
  const fs::path target = fs::canonical(path, error);  // a link keeps pointing at the file
  if (error) return errorText(error.value());
  return writeBeside(target, bytes, existing, static_cast<mode_t>(status.st_mode & 07777U));
}

fs::perms permissionsOfCopy(const fs::path& original) {
  std::error_code error;
  const auto mode = static_cast<unsigned>(fs::status(original, error).permissions());
  if (error) return fs::perms::owner_read | fs::perms::owner_write;
  constexpr unsigned bits_per_class = 3;  // owner, group, others: read, write, execute each
  constexpr unsigned read_write = 06;
  constexpr unsigned owner_read_write = 0600;
  const unsigned everybody = (mode >> bits_per_class) & mode & read_write;
  return static_cast<fs::perms>((mode & owner_read_write) | (everybody << bits_per_class) | everybody);
}

std::optional<std::string> writeNewFile(const fs::path& path, std::string_view bytes, fs::perms permissions) {
  return writeBeside(path, bytes, Existing::refuse, static_cast<mode_t>(permissions & fs::perms::mask));
}

}  // namespace petalproof
