#include "viewer/app/journal.h"

#include "engine/base/hash.h"
#include "engine/plan/write_plan.h"
#include "viewer/app/internal/journal_file.h"
#include "viewer/app/internal/journal_text.h"

#include <sys/stat.h>

#include <fmt/format.h>

#include <system_error>
#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

// A journal beyond this size is begun anew with its last record: small enough to read in a moment, large
// enough for hundreds of steps of a usual plan.
constexpr std::size_t most_bytes = std::size_t{8} << 20;
// Room for a journal, a last record that was appended in need, and a plan of the largest size.
constexpr std::size_t most_bytes_read = most_bytes + 2 * plan::PlanLimits{}.plan_bytes;
// Windows with the same plan open, each with a journal of its own: more than any person opens.
constexpr int most_windows = 20;

// "wall.toml", number 2: ".wall.toml.2.journal".
std::string journalName(const std::string& name, int number) {
  return number == 1 ? fmt::format(".{}.journal", name) : fmt::format(".{}.{}.journal", name, number);
}

// The name of a plan's journals in the state folder; a hash of the whole path keeps equal file names apart.
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

// The places where journals of a plan may be, the best first.
std::vector<JournalPlace> placesOf(const fs::path& path, const fs::path& state_folder) {
  std::vector<JournalPlace> places;
  if (!path.empty()) places.push_back({path.parent_path(), path.filename().string()});
  if (!state_folder.empty()) places.push_back({state_folder / "journals", nameInStateFolder(path)});
  return places;
}

std::vector<std::string> journalNames(const std::string& name) {
  std::vector<std::string> names;
  for (int number = 1; number <= most_windows; ++number) names.push_back(journalName(name, number));
  return names;
}

// Absolute, with links resolved; empty stays empty.
fs::path wholePath(const fs::path& path) {
  std::error_code error;
  return path.empty() ? path : fs::weakly_canonical(fs::absolute(path, error), error);
}

// Makes the folder of journals within the state folder, closed to other users.
void makePrivateFolder(const fs::path& folder) {
  std::error_code error;
  fs::create_directories(folder.parent_path(), error);
  ::mkdir(folder.c_str(), 0700);
}

}  // namespace

struct Journal::Parts {
  fs::path plan_path;
  fs::path state_folder;
  JournalFile file;

  bool begin(const std::string& text, std::string& problem);
  std::optional<std::string> write(const JournalHead& head, const std::string& record, bool to_disk);
};

// Begins a new journal. The old journal stays until the new journal is whole.
bool Journal::Parts::begin(const std::string& text, std::string& problem) {
  for (const JournalPlace& place : placesOf(plan_path, state_folder)) {
    if (place.folder.parent_path() == state_folder) makePrivateFolder(place.folder);
    JournalFile made = JournalFile::make(place.folder, journalNames(place.name), text, file, problem);
    if (!made.isOpen()) continue;
    std::swap(file, made);
    // `made` is now the old journal; remove() does nothing where the new journal replaced its file.
    made.remove();
    return true;
  }
  return false;
}

std::optional<std::string> Journal::Parts::write(const JournalHead& head, const std::string& record,
                                                 bool to_disk) {
  const bool fits = file.bytes() + record.size() <= most_bytes;
  const bool appends = fits && file.isSound();
  if (appends && !file.append(record, to_disk)) return file.syncFolder();
  std::string problem = "no folder takes a journal";
  if (begin(headText(head) + record, problem)) return file.syncFolder();
  const bool may_append = !appends && file.bytes() + record.size() <= most_bytes_read;
  if (!may_append || !file.isUnchanged()) return problem;
  // No other place has room: a journal that is too long, or perhaps not on the disk, is better than no
  // journal.
  const auto failure = file.append(record, to_disk);
  return failure ? failure : file.syncFolder();
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
  const std::string text = plan::writePlan(plan.plan);
  if (text.size() > plan::PlanLimits{}.plan_bytes) return "the plan is larger than a plan that can be read";
  return parts_->write(head, recordText(text), to_disk);
}

void Journal::discard() {
  if (parts_->file.isOpen()) parts_->file.remove();
}

namespace {

// The folder that the plan's paths are relative to. A journal copied together with its plan's folder refers
// to the copy.
fs::path directoryOf(const JournalHead& head, const fs::path& plan_path, const fs::path& journal) {
  const fs::path here = plan_path.empty() ? journal.parent_path() : plan_path.parent_path();
  const bool is_elsewhere = head.directory.is_absolute() && head.directory != head.path.parent_path();
  return is_elsewhere ? head.directory : here;
}

std::string remarkOn(const JournalHead& head, const fs::path& plan_path) {
  if (head.path.empty() || head.path == plan_path) return {};
  return fmt::format("It was written for {}; taken up, it becomes a change of {}.", head.path.string(),
                     plan_path.empty() ? "a plan that was never saved" : plan_path.filename().string());
}

}  // namespace

std::optional<FoundWork> workIn(const fs::path& journal, const fs::path& plan_path) {
  const auto read = readJournal(journal, most_bytes_read);
  const auto text = read ? journalFrom(read->bytes) : std::nullopt;
  if (!text) return std::nullopt;
  const std::string name = plan_path.empty() ? "unsaved" : plan_path.filename().string();
  auto plan = plan::readPlan(text->plan, name, directoryOf(text->head, plan_path, journal));
  if (!plan) return std::nullopt;
  plan.value->places = {};
  return FoundWork{journal, plan_path, std::make_shared<const plan::LoadedPlan>(std::move(*plan.value)),
                   read->stamp, remarkOn(text->head, plan_path)};
}

namespace {

std::optional<FoundWork> newestIn(const std::vector<JournalPlace>& places, const fs::path& plan_path) {
  std::optional<FoundWork> newest;
  for (const JournalPlace& place : places)
    for (const std::string& name : journalNames(place.name)) {
      auto work = workIn(place.folder / name, plan_path);
      if (work && (!newest || work->stamp.written_ns > newest->stamp.written_ns)) newest = std::move(work);
    }
  return newest;
}

}  // namespace

std::optional<FoundWork> workOn(const fs::path& path, const fs::path& state_folder) {
  const fs::path plan_path = wholePath(path);
  return newestIn(placesOf(plan_path, state_folder), plan_path);
}

std::optional<FoundWork> unsavedWork(const fs::path& state_folder) {
  return newestIn(placesOf({}, state_folder), {});
}

void throwAway(const FoundWork& work) { removeJournal(work.journal, work.stamp); }

}  // namespace petalproof::app
