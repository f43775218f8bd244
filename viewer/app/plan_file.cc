#include "viewer/app/plan_file.h"

#include "engine/base/file.h"
#include "engine/plan/change_paths.h"
#include "engine/plan/write_plan.h"

#include <sys/stat.h>

#include <fmt/format.h>

#include <array>
#include <utility>

namespace petalproof::app {
namespace fs = std::filesystem;
namespace {

// The place behind the quoted text that begins at `at`; the end of `toml` where it isn't closed.
std::size_t endOfQuoted(std::string_view toml, std::size_t at) {
  constexpr std::array<std::string_view, 4> quotes = {R"(""")", "'''", "\"", "'"};
  for (const std::string_view quote : quotes) {
    if (!toml.substr(at).starts_with(quote)) continue;
    const bool escapes = quote.front() == '"';
    for (std::size_t k = at + quote.size(); k < toml.size(); ++k) {
      if (escapes && toml[k] == '\\') {
        ++k;
        continue;
      }
      if (toml.substr(k).starts_with(quote)) return k + quote.size();
    }
  }
  return toml.size();
}

// The first free name of "wall.before.toml", "wall.before 2.toml" and so on.
fs::path placeBeside(const fs::path& path) {
  std::error_code error;
  fs::path beside;
  // symlink_status: a name taken by a dangling link isn't free.
  for (int k = 1; k == 1 || fs::exists(fs::symlink_status(beside, error)); ++k) {
    const std::string number = k == 1 ? "" : fmt::format(" {}", k);
    beside = path.parent_path() /
             fmt::format("{}.before{}{}", path.stem().string(), number, path.extension().string());
  }
  return beside;
}

// Keeps the old file under another name where it has comments; the new name, or nothing.
Result<std::optional<fs::path>> keptIfCommented(const fs::path& path) {
  using Kept = Result<std::optional<fs::path>>;
  std::error_code error;
  if (!fs::exists(path, error)) return Kept::success(std::nullopt);
  if (!fs::is_regular_file(path, error))
    return Kept::failure(Place{path.string()}, "is no file: a plan can't be saved there");
  const auto old = readFile(path, plan::PlanLimits{}.plan_bytes, path.string());
  if (!old) return Kept::failure(old.problems);
  if (!hasComments(*old.value)) return Kept::success(std::nullopt);
  const fs::path beside = placeBeside(path);
  if (const auto failure = writeNewFile(beside, *old.value, permissionsOfCopy(path)))
    return Kept::failure(Place{beside.string()},
                         "the old plan can't be kept here, so nothing was saved: " + *failure);
  return Kept::success(beside);
}

}  // namespace

FileStamp stampFrom(const struct ::stat& status) {
  constexpr std::int64_t ns_per_s = 1'000'000'000;
  return FileStamp{static_cast<std::uint64_t>(status.st_dev), static_cast<std::uint64_t>(status.st_ino),
                   static_cast<std::uint64_t>(status.st_size),
                   static_cast<std::int64_t>(status.st_mtim.tv_sec) * ns_per_s +
                       static_cast<std::int64_t>(status.st_mtim.tv_nsec)};
}

std::optional<FileStamp> stampOf(const fs::path& path) {
  struct stat status = {};
  if (::stat(path.c_str(), &status) != 0) return std::nullopt;
  return stampFrom(status);
}

bool hasComments(std::string_view toml) {
  for (std::size_t k = 0; k < toml.size();) {
    if (toml[k] == '#') return true;
    k = toml[k] == '"' || toml[k] == '\'' ? endOfQuoted(toml, k) : k + 1;
  }
  return false;
}

Result<SavedPlan> savePlan(const plan::LoadedPlan& plan, const fs::path& path) {
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  const fs::path from = plan.directory.empty() ? fs::path(".") : plan.directory;
  const std::string text = plan::withPathsFrom(plan::writePlan(plan.plan), from, folder);
  auto kept = keptIfCommented(path);
  if (!kept) return Result<SavedPlan>::failure(std::move(kept.problems));
  if (const auto failure = writeFile(path, text, Existing::replace)) {
    // The old file is still in place; without this its copies would add up, a further copy at each try.
    std::error_code error;
    if (*kept.value) fs::remove(**kept.value, error);
    return Result<SavedPlan>::failure(Place{path.string()}, "the plan can't be saved here: " + *failure);
  }
  return Result<SavedPlan>::success({stampOf(path), *kept.value});
}

}  // namespace petalproof::app
