#include "viewer/app/first_wall_maker.h"

#include <utility>

namespace petalproof::app {

void FirstWallMaker::start(Make make) {
  job_ = std::make_unique<WallJob>([make = std::move(make)](JobReport&) { return make(); }, wake_);
}

void FirstWallMaker::ask(Make make) {
  wanted_ = true;
  if (job_)
    next_ = std::move(make);
  else
    start(std::move(make));
}

void FirstWallMaker::forget() {
  wanted_ = false;
  next_.reset();
}

std::optional<Result<FirstWall>> FirstWallMaker::take() {
  if (!job_) return std::nullopt;
  auto made = job_->take();
  if (!made) return std::nullopt;
  job_.reset();
  if (next_) {
    start(*std::exchange(next_, std::nullopt));
    return std::nullopt;
  }
  if (!std::exchange(wanted_, false)) return std::nullopt;
  return made;
}

}  // namespace petalproof::app
