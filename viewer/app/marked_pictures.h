#pragma once
// Pictures with the gaps marked, and the wall map, as files.

#include "engine/check/check.h"
#include "viewer/app/job.h"

#include <filesystem>
#include <memory>
#include <optional>

namespace petalproof::app {

struct WrittenPictures {
  std::filesystem::path folder;
  int count = 0;
  bool stopped = false;  // then only so many were written
};

using PicturesJob = Job<Result<WrittenPictures>>;

// All that is known of a plan whose every shot is checked in full; nothing before that.
std::optional<check::Check> wholeCheck(const State& state);

// Into a new folder beside the plan ("wall pictures"), never into one that is there. Problems: what can't be
// written.
std::unique_ptr<PicturesJob> startPictures(check::Check check, std::shared_ptr<const plan::LoadedPlan> plan,
                                           std::shared_ptr<const scene::Scene> scene,
                                           std::filesystem::path plan_path, int threads,
                                           std::function<void()> wake);

}  // namespace petalproof::app
