#pragma once
// What was done since the plan was saved, on disk after each action, so that nothing is lost whatever ends
// the program.
//
// A journal is appended to: a first line, then records "plan BYTES SUM\n" with that many bytes of plan text
// and the sum of them (FNV-1a, 64 bits). The last whole record is the work; a torn one is as if it weren't
// there. While its program runs a journal is locked, so that nobody takes the work of a living window for a
// dead one's.
//
// A journal that is found may be anybody's. It belongs to the plan that it lies beside, whatever it says; a
// link is never followed, and a file that this program didn't make is never written to.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "viewer/app/state.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// ".wall.toml.journal" beside the plan. Of a plan that is nowhere saved, or in a folder that can't be written
// to, in `state_folder`.
class Journal {
 public:
  // Writes nothing yet. `path`: of the plan; empty: nowhere saved.
  Journal(std::filesystem::path path, std::filesystem::path state_folder);
  ~Journal();  // leaves the file; discard() removes it
  Journal(Journal&&) noexcept;
  Journal& operator=(Journal&&) noexcept;

  // The plan as it is now. `to_disk`: only come back once it is on the disk itself, not just with the system,
  // which is enough unless the power fails. A journal that another program removed or wrote to is begun anew,
  // and so is one that can't be appended to, in the next place where there is room. Nothing, or why the plan
  // isn't safe; all that was written before can be read back.
  std::optional<std::string> write(const plan::LoadedPlan& plan, bool to_disk);
  // Everything is saved: there is nothing to offer.
  void discard();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

// The work on the plan at `plan_path` in a journal that no living program holds; nothing where there is none,
// or none that can be read.
std::optional<FoundWork> workIn(const std::filesystem::path& journal, const std::filesystem::path& plan_path);
// That of the plan at `path`, beside it or in `state_folder`; of several the newest.
std::optional<FoundWork> workOn(const std::filesystem::path& path, const std::filesystem::path& state_folder);
// Of plans that are nowhere saved; of several the newest.
std::optional<FoundWork> unsavedWork(const std::filesystem::path& state_folder);
// Removes the journal that the work was found in, unless it was written to since.
void throwAway(const FoundWork& work);

}  // namespace petalproof::app
