#pragma once
// Keeps unsaved work on disk: the session writes the plan to a journal after each action, and finds it again
// at the next start, so that no work is lost however the program ends.
//
// A journal has a first line, then records "plan BYTES SUM\n", each followed by that many bytes of plan text;
// SUM is their checksum (FNV-1a, 64 bits). Records are appended. The last whole record is the work; a torn
// record is ignored. A running program locks its journal, so that no other program takes its work for a dead
// program's.
//
// A journal that is found may come from anybody. It belongs to the plan that it lies beside, whatever it
// says; a link is never followed, and a file that this program didn't make is never written to.

#include "engine/base/problem.h"
#include "engine/plan/read_plan.h"
#include "viewer/app/state.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

// ".wall.toml.journal" beside the plan; in `state_folder` for a plan that was never saved, or whose folder
// can't be written to.
class Journal {
 public:
  // Writes nothing yet. `path`: of the plan; empty: never saved.
  Journal(std::filesystem::path path, std::filesystem::path state_folder);
  ~Journal();  // leaves the file; discard() removes it
  Journal(Journal&&) noexcept;
  Journal& operator=(Journal&&) noexcept;

  // Writes the plan as it is now. `to_disk`: returns only once the record is on the disk itself; otherwise
  // the system holds it, which is safe unless the power fails. Where another program removed or wrote to the
  // journal, or nothing can be appended to it, a new journal is begun in the next place with room. Returns
  // nothing, or why the plan isn't safe; records written before can still be read.
  std::optional<std::string> write(const plan::LoadedPlan& plan, bool to_disk);
  // Removes the journal: everything is saved.
  void discard();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

// The work on the plan at `plan_path` in a journal. Nothing where the journal is missing or unreadable, or a
// running program holds it.
std::optional<FoundWork> workIn(const std::filesystem::path& journal, const std::filesystem::path& plan_path);
// The newest work on the plan at `path` in its journals, beside it or in `state_folder`.
std::optional<FoundWork> workOn(const std::filesystem::path& path, const std::filesystem::path& state_folder);
// The newest work on plans that were never saved.
std::optional<FoundWork> unsavedWork(const std::filesystem::path& state_folder);
// Removes the journal that the work was found in, unless it was written to since.
void throwAway(const FoundWork& work);

}  // namespace petalproof::app
