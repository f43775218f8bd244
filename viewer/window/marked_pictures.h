#pragma once
// Each shot's picture with its gaps marked, and the map of the wall, as PNGs in a folder beside the plan:
// those that `petalproof check --pictures` writes.

#include "viewer/window/ui.h"

#include "engine/check/check.h"

#include <atomic>
#include <filesystem>
#include <functional>
#include <future>
#include <memory>
#include <optional>
#include <string>

namespace petalproof::window {

// What is known of all shots as one check; nothing while some shot isn't checked in full.
std::optional<Check> wholeCheck(const app::State& state);

class MarkedPictures {
 public:
  MarkedPictures() = default;
  ~MarkedPictures();
  MarkedPictures(const MarkedPictures&) = delete;
  MarkedPictures& operator=(const MarkedPictures&) = delete;

  // The button, then how far it is, and where they went; where Dear ImGui's cursor is.
  void draw(const app::State& state, const Ui& ui);
  // Under way, on another thread.
  bool wantsFrame() const { return work_.has_value(); }

 private:
  struct Progress {
    std::atomic<int> done = 0;
    std::atomic<bool> stopped = false;
  };
  struct Work {
    std::shared_ptr<Progress> progress;
    int all = 1;
    std::filesystem::path folder;
    std::future<std::optional<std::string>> wrong;
  };
  void begin(const app::State& state, Check check);
  void follow(const Ui& ui);

  std::optional<Work> work_;
  std::string said_;
};

}  // namespace petalproof::window
