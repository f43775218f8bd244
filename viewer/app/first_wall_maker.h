#pragma once
// Makes first walls beside the hand. Only the one that was asked for last is handed out.

#include "viewer/app/first_wall.h"
#include "viewer/app/job.h"

#include <functional>
#include <memory>
#include <optional>

namespace petalproof::app {

class FirstWallMaker {
 public:
  using Make = std::function<Result<FirstWall>()>;

  // `wake`: called from the worker's thread when take() has something; may be empty.
  explicit FirstWallMaker(std::function<void()> wake = {}) : wake_(std::move(wake)) {}

  // What was asked for before isn't wanted any more. `make` runs on another thread.
  void ask(Make make);
  // Nothing is wanted any more.
  void forget();
  bool isBusy() const { return job_ != nullptr && wanted_; }
  // The wall asked for last, once, when it is there. Never waits.
  std::optional<Result<FirstWall>> take();

 private:
  using WallJob = Job<Result<FirstWall>>;
  void start(Make make);

  std::function<void()> wake_;
  std::optional<Make> next_;  // waits for the one under way, which can't be stopped
  bool wanted_ = false;       // what is under way, or waits
  std::unique_ptr<WallJob> job_;
};

}  // namespace petalproof::app
