#include "viewer/folder_marker.h"

#include "engine/base/file.h"
#include "engine/report/picture_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <sstream>
#include <system_error>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

constexpr std::string_view first_line = "files written by petalproof: ";
constexpr std::size_t most_marker_bytes = std::size_t{1} << 20;
constexpr std::array all_kinds{FolderHolds::pictures, FolderHolds::pictures_as_seen, FolderHolds::tables};

// No link: a link stands for somebody's file elsewhere.
bool isPlainFile(const fs::path& path) {
  std::error_code error;
  return fs::is_regular_file(fs::symlink_status(path, error));
}

bool mayBeOurs(const std::string& name, FolderHolds holds) {
  if (name.empty() || name != report::fileNameFrom(name)) return false;
  if (holds == FolderHolds::tables) return name == "grid.csv" || name == "blooms.csv";
  return name.ends_with(".png");
}

std::optional<FolderHolds> kindFrom(std::string_view line) {
  for (const FolderHolds kind : all_kinds)
    if (line == fmt::format("{}{}", first_line, nameOf(kind))) return kind;
  // Earlier versions didn't say what they wrote, nor how it looked.
  return line == first_line.substr(0, first_line.size() - 1) ? std::optional(FolderHolds::pictures)
                                                             : std::nullopt;
}

void readLine(const std::string& line, FolderMarker& marker) {
  std::istringstream words(line);
  FileMark mark;
  std::string name;
  words >> std::hex >> mark.hash >> std::dec >> mark.size >> name;
  if (words && mayBeOurs(name, marker.holds)) marker.files[name].push_back(mark);
}

}  // namespace

std::string_view nameOf(FolderHolds holds) {
  switch (holds) {
    case FolderHolds::pictures: return "pictures with marks";
    case FolderHolds::pictures_as_seen: return "pictures as seen";
    case FolderHolds::tables: return "tables";
  }
  return "files";
}

// FNV-1a with 64 bits (Fowler, Noll, Vo; draft-eastlake-fnv; constants from memory).
FileMark markOf(std::string_view bytes) {
  std::uint64_t hash = 0xcbf29ce484222325ULL;
  for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
  return {hash, bytes.size()};
}

std::string markerText(const FolderMarker& marker) {
  std::string text = fmt::format("{}{}\n", first_line, nameOf(marker.holds));
  for (const auto& [name, marks] : marker.files)
    for (const FileMark& mark : marks) text += fmt::format("{:016x} {} {}\n", mark.hash, mark.size, name);
  return text;
}

std::optional<FolderMarker> readMarker(const fs::path& file) {
  if (!isPlainFile(file)) return std::nullopt;
  const auto text = readFile(file, most_marker_bytes, folder_marker_name);
  if (!text) return std::nullopt;
  std::istringstream lines(*text.value);
  std::string line;
  std::getline(lines, line);
  const auto kind = kindFrom(line);
  if (!kind) return std::nullopt;
  FolderMarker marker{*kind, {}};
  while (std::getline(lines, line)) readLine(line, marker);
  return marker;
}

std::optional<FileMark> markOfFile(const fs::path& file, const std::vector<FileMark>& marks) {
  if (!isPlainFile(file)) return std::nullopt;
  std::uint64_t largest = 0;
  for (const FileMark& mark : marks) largest = std::max(largest, mark.size);
  const auto bytes = readFile(file, largest, file.string());
  if (!bytes) return std::nullopt;
  const auto found = std::find(marks.begin(), marks.end(), markOf(*bytes.value));
  return found == marks.end() ? std::nullopt : std::optional(*found);
}

}  // namespace petalproof
