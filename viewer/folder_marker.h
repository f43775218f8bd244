#pragma once
// The small file that petalproof leaves in a folder of its own: which files it wrote there, each with its
// size and a hash. Anybody may have changed the marker, so a name proves nothing: a file is petalproof's only
// while its bytes are those that the marker lists.

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof {

constexpr const char* folder_marker_name = ".petalproof-files";

enum class FolderHolds { pictures, pictures_as_seen, tables };

// "pictures with marks", "tables": as the marker and messages say it.
std::string_view nameOf(FolderHolds holds);

struct FileMark {
  std::uint64_t hash = 0;
  std::uint64_t size = 0;
  friend bool operator==(const FileMark&, const FileMark&) = default;
};

FileMark markOf(std::string_view bytes);

// A name has several marks where a run that replaced the file was cut off: those of the old file and of the
// new.
using ListedFiles = std::map<std::string, std::vector<FileMark>>;

struct FolderMarker {
  FolderHolds holds = FolderHolds::pictures;
  ListedFiles files;
};

std::string markerText(const FolderMarker& marker);

// Returns nothing where the file is no marker. Skips lines that petalproof can't have written.
std::optional<FolderMarker> readMarker(const std::filesystem::path& file);

// Returns the mark of the list that the file's bytes have; nothing where none fits, the file is a link or
// isn't there.
std::optional<FileMark> markOfFile(const std::filesystem::path& file, const std::vector<FileMark>& marks);

}  // namespace petalproof
