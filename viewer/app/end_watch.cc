#include "viewer/app/end_watch.h"

#include <condition_variable>
#include <cstdlib>
#include <mutex>
#include <thread>

namespace petalproof::app {

struct EndWatch::Parts {
  std::mutex mutex;
  std::condition_variable changed;
  bool ended = false;
  std::thread watcher;
};

EndWatch::EndWatch(std::chrono::milliseconds patience) : parts_(std::make_unique<Parts>()) {
  parts_->watcher = std::thread([parts = parts_.get(), patience] {
    std::unique_lock lock(parts->mutex);
    // Without destructors: they would wait for the very workers that don't end.
    if (!parts->changed.wait_for(lock, patience, [parts] { return parts->ended; })) std::_Exit(EXIT_SUCCESS);
  });
}

EndWatch::~EndWatch() {
  {
    const std::lock_guard lock(parts_->mutex);
    parts_->ended = true;
  }
  parts_->changed.notify_all();
  parts_->watcher.join();
}

}  // namespace petalproof::app
