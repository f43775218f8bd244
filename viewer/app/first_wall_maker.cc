#include "viewer/app/first_wall_maker.h"

#include <algorithm>
#include <utility>

namespace petalproof::app {

void FirstWallMaker::start(std::shared_ptr<const FirstWall> before) {
  Make make = std::move(steps_.back());
  steps_.pop_back();
  outdated_ = false;
  job_ = std::make_unique<WallJob>(
      [make = std::move(make), before = std::move(before)](JobReport&) { return make(before.get()); }, wake_);
}

void FirstWallMaker::ask(std::vector<Make> steps) {
  std::reverse(steps.begin(), steps.end());
  steps_ = std::move(steps);
  wanted_ = !steps_.empty();
  outdated_ = true;
  if (!job_ && wanted_) start(nullptr);
}

void FirstWallMaker::forget() {
  wanted_ = false;
  steps_.clear();
}

std::optional<Result<FirstWall>> FirstWallMaker::take() {
  if (!job_) return std::nullopt;
  auto made = job_->take();
  if (!made) return std::nullopt;
  job_.reset();
  if (!wanted_) return std::nullopt;
  if (outdated_) {
    start(nullptr);
    return std::nullopt;
  }
  // A wall that can't be made hastily can't be made carefully either.
  if (!*made) steps_.clear();
  wanted_ = !steps_.empty();
  if (wanted_) start(std::make_shared<const FirstWall>(*made->value));
  return made;
}

}  // namespace petalproof::app
