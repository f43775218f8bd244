#pragma once
// Makes first walls (first_wall.h) in a thread of its own while the person answers questions. The start page
// asks for a wall at each answer and takes the results in each frame; only the wall asked for last is handed
// out.

#include "viewer/app/first_wall.h"
#include "viewer/app/job.h"

#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace petalproof::app {

class FirstWallMaker {
 public:
  using Make = std::function<Result<FirstWall>(const FirstWall* before)>;

  // `wake`: called from the worker's thread when take() has something; may be empty.
  explicit FirstWallMaker(std::function<void()> wake = {}) : wake_(std::move(wake)) {}

  // Replaces the request before. `steps` run in another thread, each after the step before it, whose
  // wall it is given (the first step: nullptr). take() hands out the wall of each step; the last is final.
  void ask(std::vector<Make> steps);
  // Drops the request.
  void forget();
  bool isBusy() const { return job_ != nullptr && wanted_; }
  // The wall of a finished step, once. Never waits.
  std::optional<Result<FirstWall>> take();

 private:
  using WallJob = Job<Result<FirstWall>>;
  void start(std::shared_ptr<const FirstWall> before);

  std::function<void()> wake_;
  std::vector<Make> steps_;  // still to run, in reverse order
  bool outdated_ = false;    // the running job, which can't be stopped, isn't of these steps
  bool wanted_ = false;      // a wall is asked for and not yet complete
  std::unique_ptr<WallJob> job_;
};

}  // namespace petalproof::app
