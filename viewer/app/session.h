#pragma once
// One person's session: the state, and what needs files and threads around it.

#include "viewer/app/action.h"
#include "viewer/app/state.h"

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>

namespace petalproof::app {

struct SessionOptions {
  int threads = 0;                        // 0: as many as the machine has
  bool live = true;                       // check while the hand moves
  std::filesystem::path state_folder;     // journals of plans that are nowhere saved; recent plans, settings
  std::filesystem::path assets;           // the folder with the demo; empty: there is none
  std::chrono::milliseconds retry{2000};  // from one try to keep work safe to the next, where it failed
  std::function<void()> wake;             // called from other threads when poll() has something; may be empty
};

class Session {
 public:
  explicit Session(SessionOptions options);
  ~Session();

  const State& state() const;
  void perform(const Action& action);
  // Takes over what the workers found; true where the state changed. Never waits.
  bool poll();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace petalproof::app
