#pragma once
// What the window has to ask before it goes on, and what it has to say before anything else.

#include "viewer/window/panels/file_chooser.h"
#include "viewer/window/ui.h"

#include <optional>

namespace petalproof::window {

class Questions {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

  void askWhereToSave(const app::State& state);
  // Before the window closes, or only the plan.
  void askBeforeLeaving(bool window) {
    asks_before_leaving_ = true;
    leaves_window_ = window;
  }
  void showHelp() { asks_help_ = true; }
  // It was said what is to become of unsaved work: the window may close.
  bool mayLeave() const { return may_leave_; }

 private:
  void drawWhereToSave(const Ui& ui, app::Actions& actions);
  void drawLeaving(const app::State& state, app::Actions& actions);
  void leave(app::Actions& actions);
  void drawFound(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawChangedOnDisk(const app::State& state, app::Actions& actions);
  void drawProblems(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawHelp(const Ui& ui);

  FileChooser chooser_;
  std::optional<std::filesystem::path> to_replace_;
  bool asks_where_ = false;
  bool asks_before_leaving_ = false;
  bool asks_help_ = false;
  bool leaves_when_saved_ = false;
  bool leaves_window_ = false;
  bool may_leave_ = false;
};

}  // namespace petalproof::window
