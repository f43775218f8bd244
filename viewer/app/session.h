#pragma once
// A session at the window: holds the state, carries out actions and runs the work that needs files and
// threads. The window's main loop calls perform() with each action and poll() before each frame.

#include "viewer/app/action.h"
#include "viewer/app/state.h"

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>

namespace petalproof::app {

struct SessionParts;

struct SessionOptions {
  int threads = 0;                        // 0: as many as the machine has
  bool live = true;                       // check while the person edits
  std::filesystem::path state_folder;     // for journals of unsaved plans, recent plans, settings
  std::filesystem::path assets;           // the folder with the demo; empty: there is none
  std::chrono::milliseconds retry{2000};  // after a failed write of the journal, until the next try
  std::function<void()> wake;             // called from other threads when poll() has something; may be empty
};

class Session {
 public:
  explicit Session(SessionOptions options);
  ~Session();

  const State& state() const;
  void perform(const Action& action);
  // Takes over the workers' results; true where the state changed. Never waits.
  bool poll();

 private:
  std::unique_ptr<SessionParts> parts_;
};

}  // namespace petalproof::app
