// Writing a command's outputs: all of them, or none.
#include "viewer/output.h"

#include "engine/base/error_text.h"
#include "engine/base/file.h"
#include "engine/base/stopping.h"
#include "viewer/output_checks.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <memory>
#include <system_error>
#include <thread>
#include <utility>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

using Why = std::optional<std::string>;

std::string cantBeWritten(const fs::path& path, const std::string& reason) {
  return fmt::format("{}: can't be written: {}", path.string(), reason);
}

// Folders that were made here, gone again unless kept.
class MadeFolders {
 public:
  explicit MadeFolders(const FileCalls& calls) : calls_(&calls) {}
  MadeFolders(const MadeFolders&) = delete;
  MadeFolders& operator=(const MadeFolders&) = delete;
  ~MadeFolders() {
    for (auto folder = made_.rbegin(); folder != made_.rend(); ++folder) ::rmdir(folder->c_str());
  }

  Why make(const fs::path& folder) {
    std::error_code error;
    if (folder.empty() || fs::is_directory(folder, error)) return std::nullopt;
    if (folder.has_parent_path() && folder.parent_path() != folder)
      if (auto why = make(folder.parent_path())) return why;
    if (!folder.has_filename() || folder.filename() == "." || folder.filename() == "..") return std::nullopt;
    if (calls_->make_folder(folder.c_str(), 0777) == 0)
      made_.push_back(folder);
    else if (const int wrong = errno; !fs::is_directory(folder, error))
      return fmt::format("{}: can't be made: {}", folder.string(), errorText(wrong));
    return std::nullopt;
  }
  void keep() { made_.clear(); }

 private:
  const FileCalls* calls_;
  std::vector<fs::path> made_;
};

bool isDevice(const fs::path& path) {
  std::error_code error;
  const auto status = fs::status(path, error);
  return fs::exists(status) && !fs::is_regular_file(status) && !fs::is_directory(status);
}

// Opens a device or a pipe. A named pipe without a reader can't be opened; its reader may be just about to.
int openDevice(const fs::path& path, const FileCalls& calls) {
  constexpr int tries = 40;
  constexpr std::chrono::milliseconds between(50);
  for (int k = 0; k < tries; ++k) {
    if (k > 0) std::this_thread::sleep_for(between);
    const int file = calls.open(path.c_str(), O_WRONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC, 0);
    if (file >= 0) ::fcntl(file, F_SETFL, 0);
    if (file >= 0 || errno != ENXIO) return file;
  }
  return -1;
}

Why writeDevice(const fs::path& path, std::string_view bytes, const WriteOptions& options) {
  const int file = openDevice(path, options.calls);
  if (file < 0) return cantBeWritten(path, errno == ENXIO ? "nobody reads this pipe" : errorText(errno));
  int wrong = 0;
  while (!bytes.empty() && wrong == 0) {
    const ssize_t written = options.calls.write(file, bytes.data(), bytes.size());
    if (written >= 0)
      bytes.remove_prefix(static_cast<std::size_t>(written));
    else if (errno != EINTR)
      wrong = errno;
  }
  if (::close(file) != 0 && wrong == 0) wrong = errno;
  return wrong == 0 ? std::nullopt : Why(cantBeWritten(path, errorText(wrong)));
}

constexpr mode_t owner_read_write = 0600;

std::optional<mode_t> permissionsOf(const fs::path& file) {
  struct stat status = {};
  if (::stat(file.c_str(), &status) != 0) return std::nullopt;
  return static_cast<mode_t>(status.st_mode & 07777U);
}

class Writing {
 public:
  explicit Writing(const WriteOptions& options) : options_(&options), folders_(options.calls) {}

  // Writes the output's bytes beside their places.
  Why stage(const Output& output) {
    if (output.kind == OutputKind::folder) return stageFolder(output);
    if (isDevice(output.path)) {
      devices_.push_back(&output);
      return std::nullopt;
    }
    removeLeftDrafts(folderOf(output.path));
    return stageFile(output);
  }

  Why place() {
    for (const Output* device : devices_)
      if (auto why = writeDevice(device->path, device->files.front().bytes, *options_)) return why;
    for (const Staged& staged : staged_)
      if (auto why = place(staged)) return why;
    return std::nullopt;
  }

  void keep() {
    for (const Staged& staged : staged_) staged.draft->keep();
    folders_.keep();
    for (const auto& [file, marks] : outdated_) {
      std::error_code error;
      if (markOfFile(file, marks)) fs::remove(file, error);
    }
  }

 private:
  struct Staged {
    std::unique_ptr<Draft> draft;
    fs::path shown;
    Draft::WhyNot why_not;  // empty: nothing may be there
    std::string if_there;   // is said then
  };

  static fs::path folderOf(const fs::path& file) {
    return file.has_parent_path() ? file.parent_path() : fs::path(".");
  }

  static Why place(const Staged& staged) {
    Why refused;
    const auto ask = [&](const fs::path& old) { return refused = staged.why_not(old); };
    const auto why = staged.why_not ? staged.draft->placeOver(ask) : staged.draft->placeNew();
    if (!why) return std::nullopt;
    if (!staged.why_not && !staged.if_there.empty() && *why == errorText(EEXIST)) refused = staged.if_there;
    return refused ? fmt::format("{}: {}", staged.shown.string(), *refused)
                   : cantBeWritten(staged.shown, *why);
  }

  Why add(const fs::path& target, const fs::path& shown, std::string_view bytes, Draft::WhyNot why_not,
          std::string if_there = "", const fs::path& copy_of = {}) {
    auto draft = std::make_unique<Draft>(target, options_->calls);
    if (std::error_code error; !copy_of.empty() && fs::is_regular_file(copy_of, error))
      draft->permitAtMost(owner_read_write | static_cast<mode_t>(permissionsOfCopy(copy_of)));
    const auto permissions = why_not ? permissionsOf(target) : std::nullopt;
    if (auto why = draft->write(bytes, permissions, options_->goes_on)) return cantBeWritten(shown, *why);
    staged_.push_back({std::move(draft), shown, std::move(why_not), std::move(if_there)});
    return std::nullopt;
  }

  Why stageFile(const Output& output) {
    const std::string& bytes = output.files.front().bytes;
    std::error_code error;
    if (output.kind == OutputKind::new_file || !fs::exists(output.path, error))
      return add(output.path, output.path, bytes, {}, "", output.copy_of);
    const fs::path target = fs::canonical(output.path, error);  // a link keeps pointing at the file
    if (error) return cantBeWritten(output.path, errorText(error.value()));
    return add(target, output.path, bytes, [signature = output.signature](const fs::path& old) {
      return whyNotReplaceReport(old, signature);
    });
  }

  // The marker comes first: a run that is cut off afterwards leaves no file that is not listed.
  Why stageFolder(const Output& output) {
    if (auto why = folders_.make(output.path)) return why;
    removeLeftDrafts(output.path);
    const fs::path marker_file = output.path / folder_marker_name;
    const auto before = readMarker(marker_file);
    const ListedFiles listed = before ? before->files : ListedFiles{};
    const auto whyNotMarker = [](const fs::path& old) {
      return readMarker(old) ? std::nullopt : Why(not_written_by_us);
    };
    if (auto why = add(marker_file, marker_file, markerText(markerOf(output, listed)), whyNotMarker))
      return why;
    for (const NamedFile& file : output.files)
      if (auto why = stageNamed(output.path / file.name, file, listed)) return why;
    for (const auto& [name, marks] : listed)
      if (!isWritten(output, name)) outdated_.emplace_back(output.path / name, marks);
    return std::nullopt;
  }

  Why stageNamed(const fs::path& target, const NamedFile& file, const ListedFiles& listed) {
    const auto known = listed.find(file.name);
    if (known == listed.end()) return add(target, target, file.bytes, {}, not_written_by_us);
    return add(target, target, file.bytes, [marks = known->second](const fs::path& old) {
      return markOfFile(old, marks) ? std::nullopt : Why(changed_since);
    });
  }

  static bool isWritten(const Output& output, const std::string& name) {
    return std::any_of(output.files.begin(), output.files.end(),
                       [&](const NamedFile& file) { return file.name == name; });
  }

  // The marker lists the new files and the earlier files that still exist, these with their old bytes until
  // each is replaced or removed.
  static FolderMarker markerOf(const Output& output, const ListedFiles& listed) {
    FolderMarker marker{output.holds, {}};
    for (const auto& [name, marks] : listed)
      if (const auto mark = markOfFile(output.path / name, marks)) marker.files[name] = {*mark};
    for (const NamedFile& file : output.files) {
      std::vector<FileMark>& marks = marker.files[file.name];
      if (std::find(marks.begin(), marks.end(), markOf(file.bytes)) == marks.end())
        marks.push_back(markOf(file.bytes));
    }
    return marker;
  }

  const WriteOptions* options_;
  MadeFolders folders_;  // goes after the drafts in them
  std::vector<Staged> staged_;
  std::vector<const Output*> devices_;
  std::vector<std::pair<fs::path, std::vector<FileMark>>> outdated_;
};

}  // namespace

std::optional<std::string> writeOutputs(std::span<const Output> outputs, const WriteOptions& options) {
  if (auto why = whyNotOutputs(outputs)) return why;
  Writing writing(options);
  for (const Output& output : outputs)
    if (auto why = writing.stage(output)) return why;
  if (options.goes_on && !options.goes_on()) throw Stopped{};
  if (auto why = writing.place()) return why;
  writing.keep();
  return std::nullopt;
}

}  // namespace petalproof
