#pragma once
// Saves a plan to its file, whole or not at all, and tells by file stamps whether another program wrote to
// the file meanwhile. The session and the journal call it.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

struct stat;

namespace petalproof::app {

// A file's identity, size and time of writing. Equal stamps: nobody wrote to the file in between.
struct FileStamp {
  std::uint64_t device = 0;
  std::uint64_t file = 0;  // its number on that device
  std::uint64_t bytes = 0;
  std::int64_t written_ns = 0;
  friend bool operator==(const FileStamp&, const FileStamp&) = default;
};
FileStamp stampFrom(const struct ::stat& status);
// Nothing where there is no file.
std::optional<FileStamp> stampOf(const std::filesystem::path& path);

// True where a plan's text has comments, which saving the plan would drop.
bool hasComments(std::string_view toml);

struct SavedPlan {
  std::optional<FileStamp> stamp;
  std::optional<std::filesystem::path> kept;  // the new place of the old file, where it had comments
};

// Writes the plan to `path`; paths within the plan are rewritten to lead to the same files from there. Where
// the old file has comments, it is kept beside the new file ("wall.before.toml"), readable for nobody else
// than before. Problems: why nothing was saved; the folder is then unchanged.
Result<SavedPlan> savePlan(const plan::LoadedPlan& plan, const std::filesystem::path& path);

}  // namespace petalproof::app
