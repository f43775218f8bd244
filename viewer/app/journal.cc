#include "viewer/app/journal.h"

#include "engine/base/file.h"
#include "engine/base/hash.h"
#include "engine/plan/write_plan.h"
#include "viewer/app/internal/journal_text.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <system_error>
#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

// A journal that has grown beyond it is begun anew with its last record.
constexpr std::size_t most_bytes = std::size_t{8} << 20;
// As much as a journal and a plan of the largest size.
constexpr std::size_t most_bytes_read = (std::size_t{8} << 20) + 2 * plan::PlanLimits{}.plan_bytes;
// Windows that hold one and the same plan open.
constexpr int most_windows = 20;

bool writeAll(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(file, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

// An open file that nobody else holds; -1: there is none. Made where `create`.
int lockedFile(const fs::path& path, bool create) {
  const int file = ::open(path.c_str(), (create ? O_CREAT : 0) | O_RDWR | O_CLOEXEC, 0600);
  if (file < 0) return -1;
  struct stat by_name = {};
  struct stat by_file = {};
  // Between opening and locking its owner may have removed it or begun it anew.
  const bool held = ::flock(file, LOCK_EX | LOCK_NB) == 0 && ::stat(path.c_str(), &by_name) == 0 &&
                    ::fstat(file, &by_file) == 0 && by_name.st_ino == by_file.st_ino;
  if (held) return file;
  ::close(file);
  return -1;
}

// "wall.toml", number 2: ".wall.toml.2.journal".
std::string journalName(const std::string& name, int number) {
  return number == 1 ? fmt::format(".{}.journal", name) : fmt::format(".{}.{}.journal", name, number);
}

// In the state folder a plan's journals are told apart by its whole path.
std::string nameInStateFolder(const fs::path& path) {
  if (path.empty()) return "unsaved";
  std::uint64_t hash = 0;
  for (const char byte : path.string()) hash = hashOf({hash, static_cast<unsigned char>(byte)});
  return fmt::format("{}-{:016x}", path.filename().string(), hash);
}

struct JournalPlace {
  fs::path folder;
  std::string name;
};

// Where the journals of a plan may be, the best place first.
std::vector<JournalPlace> placesOf(const fs::path& path, const fs::path& state_folder) {
  std::vector<JournalPlace> places;
  if (!path.empty()) places.push_back({path.parent_path(), path.filename().string()});
  if (!state_folder.empty()) places.push_back({state_folder / "journals", nameInStateFolder(path)});
  return places;
}

fs::path wholePath(const fs::path& path) {
  std::error_code error;
  return path.empty() ? path : fs::weakly_canonical(fs::absolute(path, error), error);
}

}  // namespace

struct Journal::Parts {
  fs::path plan_path;
  fs::path state_folder;
  fs::path path;  // of the journal; empty: not begun
  int file = -1;
  std::size_t bytes = 0;

  Parts() = default;
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;
  ~Parts() { close(); }

  bool begin(const JournalHead& head);
  bool beginAnew(const JournalHead& head, const std::string& record);
  void close();
};

bool Journal::Parts::begin(const JournalHead& head) {
  for (const JournalPlace& place : placesOf(plan_path, state_folder)) {
    std::error_code error;
    if (place.folder.parent_path() == state_folder) fs::create_directories(place.folder, error);
    for (int number = 1; number <= most_windows; ++number) {
      path = place.folder / journalName(place.name, number);
      // Work that is still to be offered isn't written over.
      if (fs::exists(path, error) && workIn(path)) continue;
      file = lockedFile(path, true);
      if (file >= 0) break;
      if (!fs::exists(path, error)) break;  // the folder takes no file
    }
    if (file < 0) continue;
    const std::string text = headText(head);
    bytes = text.size();
    return ::ftruncate(file, 0) == 0 && ::lseek(file, 0, SEEK_SET) == 0 && writeAll(file, text);
  }
  path.clear();
  return false;
}

// The old one stays until the new one is whole.
bool Journal::Parts::beginAnew(const JournalHead& head, const std::string& record) {
  const std::string text = headText(head) + record;
  if (writeFile(path, text, Existing::replace)) return false;
  const int fresh = lockedFile(path, false);
  if (fresh < 0) return false;
  ::lseek(fresh, 0, SEEK_END);
  ::close(std::exchange(file, fresh));
  bytes = text.size();
  return true;
}

void Journal::Parts::close() {
  if (file >= 0) ::close(std::exchange(file, -1));
  path.clear();
  bytes = 0;
}

Journal::Journal(fs::path path, fs::path state_folder) : parts_(std::make_unique<Parts>()) {
  parts_->plan_path = wholePath(path);
  parts_->state_folder = std::move(state_folder);
}

Journal::~Journal() = default;
Journal::Journal(Journal&&) noexcept = default;
Journal& Journal::operator=(Journal&&) noexcept = default;

std::optional<std::string> Journal::write(const plan::LoadedPlan& plan, bool to_disk) {
  const JournalHead head{parts_->plan_path, wholePath(plan.directory.empty() ? "." : plan.directory)};
  const std::string record = recordText(plan::writePlan(plan.plan));
  constexpr const char* unwritten = "what you do can't be kept safe until it is saved: ";
  if (parts_->file < 0 && !parts_->begin(head)) return unwritten + std::string("no folder takes a journal");
  bool written = false;
  if (parts_->bytes + record.size() > most_bytes) {
    written = parts_->beginAnew(head, record);
  } else {
    written = writeAll(parts_->file, record);
    parts_->bytes += record.size();
  }
  if (written && to_disk) written = ::fdatasync(parts_->file) == 0 || errno == EINVAL || errno == EROFS;
  if (!written) return unwritten + std::generic_category().message(errno);
  return std::nullopt;
}

void Journal::discard() {
  if (parts_->file < 0) return;
  ::unlink(parts_->path.c_str());
  parts_->close();
}

std::optional<FoundWork> workIn(const fs::path& journal) {
  const int file = lockedFile(journal, false);
  if (file < 0) return std::nullopt;
  const auto bytes = readFile(journal, most_bytes_read, journal.string());
  ::close(file);
  const auto text = bytes ? journalFrom(*bytes.value) : std::nullopt;
  if (!text) return std::nullopt;
  const std::string name = text->head.path.empty() ? "unsaved" : text->head.path.filename().string();
  auto plan = plan::readPlan(text->plan, name, text->head.directory);
  if (!plan) return std::nullopt;
  plan.value->places = {};
  return FoundWork{journal, text->head.path,
                   std::make_shared<const plan::LoadedPlan>(std::move(*plan.value))};
}

namespace {

std::optional<FoundWork> newestIn(const std::vector<JournalPlace>& places) {
  std::optional<FoundWork> newest;
  std::error_code error;
  for (const JournalPlace& place : places)
    for (int number = 1; number <= most_windows; ++number) {
      const fs::path path = place.folder / journalName(place.name, number);
      if (!fs::exists(path, error)) continue;
      auto work = workIn(path);
      if (!work) continue;
      const bool newer =
          !newest || fs::last_write_time(path, error) > fs::last_write_time(newest->journal, error);
      if (newer) newest = std::move(work);
    }
  return newest;
}

}  // namespace

std::optional<FoundWork> workOn(const fs::path& path, const fs::path& state_folder) {
  return newestIn(placesOf(wholePath(path), state_folder));
}

std::optional<FoundWork> unsavedWork(const fs::path& state_folder) {
  return newestIn(placesOf({}, state_folder));
}

}  // namespace petalproof::app
