#include "viewer/output.h"

#include "engine/base/file.h"
#include "engine/report/picture_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

constexpr const char* marker_name = ".petalproof-files";
constexpr const char* marker_first_line = "files written by petalproof:";

// The names that the marker of a folder lists; nothing where the folder has no marker of ours.
std::optional<std::vector<std::string>> markedFiles(const fs::path& folder) {
  std::ifstream marker(folder / marker_name);
  std::string line;
  if (!std::getline(marker, line) || line != marker_first_line) return std::nullopt;
  std::vector<std::string> names;
  while (std::getline(marker, line)) {
    if (!line.empty() && line == report::fileNameFrom(line)) names.push_back(line);
  }
  return names;
}

std::string markerText(const std::set<std::string>& names) {
  std::string text = fmt::format("{}\n", marker_first_line);
  for (const std::string& name : names) text += name + "\n";
  return text;
}

std::set<std::string> namesOf(const std::vector<NamedFile>& files) {
  std::set<std::string> names;
  for (const NamedFile& file : files) names.insert(file.name);
  return names;
}

std::optional<std::string> writeMarker(const fs::path& folder, const std::set<std::string>& names) {
  return writeFile(folder / marker_name, markerText(names), Existing::replace);
}

// A device or pipe is written to as it is.
std::optional<std::string> writeWhole(const fs::path& path, std::string_view bytes, Existing existing) {
  std::error_code error;
  const auto status = fs::status(path, error);
  if (!fs::exists(status) || fs::is_regular_file(status)) return writeFile(path, bytes, existing);
  std::ofstream device(path, std::ios::binary);
  device.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  device.flush();
  if (!device) return fmt::format("{}: can't be written", path.string());
  return std::nullopt;
}

}  // namespace

std::optional<std::string> whyNotFolder(const fs::path& folder) {
  std::error_code error;
  const auto status = fs::status(folder, error);
  if (!fs::exists(status)) return std::nullopt;
  if (!fs::is_directory(status)) {
    return fmt::format("{}: is a file; name a folder that is new or empty", folder.string());
  }
  if (fs::is_empty(folder, error) || markedFiles(folder)) return std::nullopt;
  return fmt::format("{}: this folder has files that petalproof did not write; name one that is new or empty",
                     folder.string());
}

std::optional<std::string> writeFolder(const fs::path& folder, const std::vector<NamedFile>& files) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) return fmt::format("{}: can't be made: {}", folder.string(), error.message());
  const auto before = markedFiles(folder).value_or(std::vector<std::string>{});
  const auto now = namesOf(files);
  auto all = now;
  all.insert(before.begin(), before.end());
  if (auto wrong = writeMarker(folder, all)) return wrong;
  for (const NamedFile& file : files) {
    if (auto wrong = writeFile(folder / file.name, file.bytes, Existing::replace)) return wrong;
  }
  for (const std::string& name : before) {
    if (!now.contains(name)) fs::remove(folder / name, error);
  }
  return writeMarker(folder, now);
}

std::optional<std::string> whyNotReport(const fs::path& path, std::string_view signature) {
  std::error_code error;
  const auto status = fs::status(path, error);
  if (!fs::exists(status)) return std::nullopt;
  if (fs::is_directory(status)) return fmt::format("{}: is a folder; name a file", path.string());
  if (!fs::is_regular_file(status)) return std::nullopt;
  std::ifstream file(path, std::ios::binary);
  std::string start(signature.size(), '\0');
  file.read(start.data(), static_cast<std::streamsize>(start.size()));
  if (file && start == signature) return std::nullopt;
  return fmt::format("{}: exists already and is not a report of petalproof; name a new file", path.string());
}

std::optional<std::string> writeReport(const fs::path& path, std::string_view bytes) {
  return writeWhole(path, bytes, Existing::replace);
}

std::optional<std::string> whyNotNewFile(const fs::path& path) {
  std::error_code error;
  const auto status = fs::status(path, error);
  if (fs::is_directory(status)) return fmt::format("{}: is a folder; name a file", path.string());
  if (fs::is_regular_file(status)) return fmt::format("{}: exists already; name a new file", path.string());
  return std::nullopt;
}

std::optional<std::string> writeNewFile(const fs::path& path, std::string_view bytes) {
  return writeWhole(path, bytes, Existing::refuse);
}

}  // namespace petalproof
