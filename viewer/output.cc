#include "viewer/output.h"

#include "engine/base/draft.h"
#include "engine/base/error_text.h"
#include "viewer/output_checks.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <system_error>
#include <utility>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

using Why = std::optional<std::string>;

fs::path folderOf(const fs::path& file) {
  return file.has_parent_path() ? file.parent_path() : fs::path(".");
}

bool isThere(const fs::path& path) {
  std::error_code error;
  return fs::exists(fs::symlink_status(path, error));
}

bool isDeadLink(const fs::path& path) {
  std::error_code error;
  return isThere(path) && !fs::exists(fs::status(path, error));
}

// The path without links and ".."; the file needn't exist.
fs::path settled(const fs::path& path) {
  std::error_code error;
  fs::path whole = fs::weakly_canonical(fs::absolute(path, error), error);
  if (error) whole = fs::absolute(path, error).lexically_normal();
  return whole.has_filename() ? whole : whole.parent_path();
}

bool areSame(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return settled(a) == settled(b) || fs::equivalent(a, b, error);
}

bool isCharacterDevice(const fs::path& path) {
  std::error_code error;
  return fs::is_character_file(fs::status(path, error));
}

Why whyNotWritable(const fs::path& folder) {
  std::error_code error;
  const auto status = fs::status(folder, error);
  if (!fs::exists(status))
    return fmt::format("{}: there is no such folder; make it, or name another", folder.string());
  if (!fs::is_directory(status)) return fmt::format("{}: is a file, not a folder", folder.string());
  if (::access(folder.c_str(), W_OK | X_OK) != 0)
    return fmt::format("{}: nothing can be written here: {}", folder.string(), errorText(errno));
  return std::nullopt;
}

Why whyNotNewFile(const fs::path& path) {
  std::error_code error;
  const auto status = fs::status(path, error);
  if (!path.has_filename() || fs::is_directory(status))
    return fmt::format("{}: is a folder; name a file", path.string());
  if (fs::is_regular_file(status) || isDeadLink(path))
    return fmt::format("{}: exists already; name a new file", path.string());
  return fs::exists(status) ? std::nullopt : whyNotWritable(folderOf(path));
}

Why whyNotReport(const fs::path& path, std::string_view signature) {
  std::error_code error;
  const auto status = fs::status(path, error);
  if (!fs::is_regular_file(status)) return whyNotNewFile(path);
  const fs::path file = fs::canonical(path, error);
  if (error) return fmt::format("{}: can't be written: {}", path.string(), errorText(error.value()));
  if (auto why = whyNotReplaceReport(file, signature)) return fmt::format("{}: {}", path.string(), *why);
  return whyNotWritable(folderOf(file));
}

// Drafts of a run that was cut off don't count.
bool isEmptyFolder(const fs::path& folder) {
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error))
    if (!isDraftName(entry->path().filename().string())) return false;
  return !error;
}

// A listed file with other bytes than the marker says is somebody's own.
Why whyNotMarked(const fs::path& folder, const FolderMarker& marker, FolderHolds holds) {
  if (marker.holds != holds)
    return fmt::format("{}: this folder is for {}; name another for {}, new or empty", folder.string(),
                       nameOf(marker.holds), nameOf(holds));
  for (const auto& [name, marks] : marker.files)
    if (isThere(folder / name) && !markOfFile(folder / name, marks))
      return fmt::format("{}: {}", (folder / name).string(), changed_since);
  return std::nullopt;
}

Why whyNotFolder(const fs::path& folder, FolderHolds holds) {
  std::error_code error;
  const auto status = fs::status(folder, error);
  if (isDeadLink(folder)) return fmt::format("{}: is a link to nothing; name a folder", folder.string());
  if (!fs::exists(status)) {
    fs::path above = folderOf(folder);
    while (!isThere(above)) above = folderOf(above);
    return whyNotWritable(above);
  }
  if (!fs::is_directory(status))
    return fmt::format("{}: is a file; name a folder that is new or empty", folder.string());
  if (auto why = whyNotWritable(folder)) return why;
  if (const auto marker = readMarker(folder / folder_marker_name))
    return whyNotMarked(folder, *marker, holds);
  if (isEmptyFolder(folder)) return std::nullopt;
  return fmt::format("{}: this folder has files that petalproof did not write; name one that is new or empty",
                     folder.string());
}

Why whyNotOutput(const Output& output) {
  switch (output.kind) {
    case OutputKind::new_file: return whyNotNewFile(output.path);
    case OutputKind::report: return whyNotReport(output.path, output.signature);
    case OutputKind::folder: return whyNotFolder(output.path, output.holds);
  }
  return std::nullopt;
}

Why whyNotBoth(const Output& a, const Output& b) {
  if (!areSame(a.path, b.path) || isCharacterDevice(a.path)) return std::nullopt;
  const bool folders = a.kind == OutputKind::folder && b.kind == OutputKind::folder;
  return fmt::format("{} and {} need a {} each: {} is the same as {}", a.option, b.option,
                     folders ? "folder" : "place", b.path.string(), a.path.string());
}

}  // namespace

void addNewFile(std::vector<Output>& outputs, std::string option, const std::string& path) {
  if (!path.empty()) outputs.push_back({std::move(option), path, OutputKind::new_file});
}

void addReport(std::vector<Output>& outputs, std::string option, const std::string& path,
               std::string_view signature) {
  if (!path.empty()) outputs.push_back({std::move(option), path, OutputKind::report, std::string(signature)});
}

void addFolder(std::vector<Output>& outputs, std::string option, const std::string& path, FolderHolds holds) {
  if (!path.empty()) outputs.push_back({std::move(option), path, OutputKind::folder, "", holds});
}

Output* outputOf(std::vector<Output>& outputs, std::string_view option) {
  const auto found = std::find_if(outputs.begin(), outputs.end(),
                                  [&](const Output& output) { return output.option == option; });
  return found == outputs.end() ? nullptr : &*found;
}

std::optional<std::string> whyNotOutputs(std::span<const Output> outputs) {
  for (std::size_t k = 0; k < outputs.size(); ++k) {
    for (const Output& before : outputs.first(k))
      if (auto why = whyNotBoth(before, outputs[k])) return why;
    if (auto why = whyNotOutput(outputs[k])) return why;
  }
  return std::nullopt;
}

std::optional<std::string> whyNotNames(const Output& folder, std::span<const std::string> names,
                                       std::span<const fs::path> inputs) {
  const auto marker = readMarker(folder.path / folder_marker_name);
  for (const std::string& name : names) {
    const fs::path file = folder.path / name;
    for (const fs::path& input : inputs)
      if (areSame(file, input))
        return fmt::format("{}: is what this run reads; name another folder", file.string());
    const bool listed = marker && marker->files.contains(name);
    if (isThere(file) && !listed) return fmt::format("{}: {}", file.string(), not_written_by_us);
  }
  return std::nullopt;
}

}  // namespace petalproof
