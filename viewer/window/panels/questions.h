#pragma once
// What the window has to ask before it goes on, and what it has to say before anything else.

#include "viewer/window/panels/file_chooser.h"
#include "viewer/window/panels/manual.h"
#include "viewer/window/ui.h"

#include <filesystem>
#include <optional>
#include <utility>
#include <vector>

namespace petalproof::window {

// What comes when the open plan is left: nothing more, or one of these.
struct Leaving {
  bool closes_window = false;
  std::filesystem::path plan = {};                 // to be opened
  std::vector<std::filesystem::path> tables = {};  // of a new wall
};

class Questions {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

  void askWhereToSave(const app::State& state);
  // Before what leaves the open plan. At once where all of it is saved; a new wall is asked for in any case.
  void askBeforeLeaving(Leaving to);
  // Of a new wall that was agreed to, once.
  std::vector<std::filesystem::path> takeTables() { return std::exchange(agreed_tables_, {}); }
  void showHelp() { asks_help_ = true; }
  // It was said what is to become of unsaved work: the window may close.
  bool mayLeave() const { return may_leave_; }

 private:
  void drawWhereToSave(const Ui& ui, app::Actions& actions);
  void drawLeaving(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawLeavingAnswers(const app::State& state, const Ui& ui, app::Actions& actions);
  void leave(app::Actions& actions);
  void drawFound(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawChangedOnDisk(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawProblems(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawHelp(const Ui& ui);

  FileChooser chooser_;
  Manual manual_;
  std::optional<std::filesystem::path> to_replace_;
  bool asks_where_ = false;
  bool asks_before_leaving_ = false;
  bool asks_help_ = false;
  bool leaves_when_saved_ = false;
  Leaving leaving_;
  std::vector<std::filesystem::path> agreed_tables_;
  bool may_leave_ = false;
};

}  // namespace petalproof::window
