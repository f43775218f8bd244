#pragma once
// A file that takes its place whole: it is written under a name of the program's own beside its target and
// then renamed. Until keep() everything can be undone, and is undone at the end of the draft's life.

#include <sys/types.h>

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof {

// The system calls that write. Tests pass calls that fail.
struct FileCalls {
  std::function<int(const char* path, int flags, mode_t mode)> open;
  std::function<ssize_t(int file, const void* bytes, std::size_t count)> write;
  std::function<int(int file)> sync;
  std::function<int(const char* from, const char* to, unsigned flags)> rename;  // as renameat2()
  std::function<int(const char* folder, mode_t mode)> make_folder;
};

FileCalls systemCalls();

// Whether a sync call that returned `outcome` succeeded. File systems and pipes that can't sync answer EINVAL
// or EROFS: then there is nothing to wait for. Reads errno.
bool syncSucceeded(int outcome);

class Draft {
 public:
  // Why the file that is there must not be replaced, in words; nothing where it may be.
  using WhyNot = std::function<std::optional<std::string>(const std::filesystem::path& old)>;

  Draft(std::filesystem::path target, FileCalls calls = systemCalls());
  Draft(const Draft&) = delete;
  Draft& operator=(const Draft&) = delete;
  ~Draft();

  const std::filesystem::path& target() const { return target_; }

  // A file that is new gets these permissions at most, for the copy of a file that not everybody may read.
  // Called before write().
  void permitAtMost(mode_t mode) { most_ = mode; }

  // Each says what went wrong, without the target's name; nothing where it went well.
  // Writes the bytes to the disk, beside the target. `permissions`: of a file that is to be replaced.
  // `goesOn` is asked between parts of 1 MiB, if it isn't empty; where it says no, the writing ends by
  // throwing Stopped.
  std::optional<std::string> write(std::string_view bytes, std::optional<mode_t> permissions = std::nullopt,
                                   const std::function<bool()>& goesOn = {});
  // Takes the target's place where nothing is there, whoever made it and when.
  std::optional<std::string> placeNew();
  // Takes the target's place, also where nothing is there. `why_not` is asked about the very file that was
  // replaced, and a refusal puts it back. Without `why_not` any file is replaced, and that can't be undone.
  std::optional<std::string> placeOver(const WhyNot& why_not);
  // The target stays as it is now.
  void keep();

 private:
  enum class State { none, beside, placed_new, exchanged, placed_over };

  int make(mode_t mode);
  std::optional<std::string> placeOverAny();
  void undo();

  std::filesystem::path target_;
  std::filesystem::path path_;
  FileCalls calls_;
  mode_t most_ = 0666;
  int file_ = -1;  // open, and locked, while the draft lives
  State state_ = State::none;
};

// Removes the drafts that a killed program left in the folder. Those of a program that runs are locked and
// stay.
void removeLeftDrafts(const std::filesystem::path& folder);

// Whether a file of this name is a draft.
bool isDraftName(std::string_view name);

}  // namespace petalproof
