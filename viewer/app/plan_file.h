#pragma once
// The plan on disk: saved whole or not at all, and never over what somebody else wrote meanwhile.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

struct stat;

namespace petalproof::app {

// What a file was when it was last looked at; equal stamps: nobody wrote to it since.
struct FileStamp {
  std::uint64_t device = 0;
  std::uint64_t file = 0;  // its number on that disk
  std::uint64_t bytes = 0;
  std::int64_t written_ns = 0;
  friend bool operator==(const FileStamp&, const FileStamp&) = default;
};
FileStamp stampFrom(const struct ::stat& status);
// Nothing where there is no file.
std::optional<FileStamp> stampOf(const std::filesystem::path& path);

// True where a plan's text has comments, which a plan written anew doesn't.
bool hasComments(std::string_view toml);

struct SavedPlan {
  std::optional<FileStamp> stamp;
  std::optional<std::filesystem::path> kept;  // where the old file with its comments is now
};

// Writes the plan to `path`, its own paths so that they lead to the same files from there. Where that would
// drop comments, the old file is kept beside it under a name of its own ("wall.before.toml"), for the eyes of
// those only who could read the old one. Problems: what went wrong; then the folder is as it was.
Result<SavedPlan> savePlan(const plan::LoadedPlan& plan, const std::filesystem::path& path);

}  // namespace petalproof::app
