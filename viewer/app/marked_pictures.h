#pragma once
// Writes the pictures with the gaps marked, and the wall map, as files, in a thread of its own. The session
// calls it at the person's request, once every shot is fully checked.

#include "engine/base/pool.h"
#include "engine/check/check.h"
#include "viewer/app/job.h"

#include <filesystem>
#include <memory>
#include <optional>

namespace petalproof::app {

struct WrittenPictures {
  std::filesystem::path folder;
  int count = 0;
  bool stopped = false;  // after `count` pictures
};

using PicturesJob = Job<Result<WrittenPictures>>;

// The checks of all shots together; nothing until every shot is fully checked.
std::optional<check::Check> wholeCheck(const State& state);

// Writes into a new folder beside the plan ("wall pictures"), never into an existing folder. Problems: a
// folder or a file that can't be written.
std::unique_ptr<PicturesJob> startPictures(check::Check check, std::shared_ptr<const plan::LoadedPlan> plan,
                                           std::shared_ptr<const scene::Scene> scene,
                                           std::filesystem::path plan_path, const Pool& pool,
                                           std::function<void()> wake);

}  // namespace petalproof::app
