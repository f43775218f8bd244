#pragma once
// Makes first walls beside the hand. Only the one that was asked for last is handed out.

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

  // What was asked for before isn't wanted any more. `steps` run on another thread, one after the other: each
  // is handed out, the last is the wall. They are given what the step before them made; nothing before the
  // first.
  void ask(std::vector<Make> steps);
  // Nothing is wanted any more.
  void forget();
  bool isBusy() const { return job_ != nullptr && wanted_; }
  // A step of the wall asked for last, once, when it is there. Never waits.
  std::optional<Result<FirstWall>> take();

 private:
  using WallJob = Job<Result<FirstWall>>;
  void start(std::shared_ptr<const FirstWall> before);

  std::function<void()> wake_;
  std::vector<Make> steps_;  // still to be made, the last one first
  bool outdated_ = false;    // what is under way, which can't be stopped, isn't of these
  bool wanted_ = false;      // what is under way, or waits
  std::unique_ptr<WallJob> job_;
};

}  // namespace petalproof::app
