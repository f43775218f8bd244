#pragma once
// Questions and messages in the middle of the window that come before everything else: where to save, leaving
// unsaved work, found work, changes by other programs, problems, help. Desk asks for them and draws them.

#include "viewer/window/panels/file_chooser.h"
#include "viewer/window/panels/manual.h"
#include "viewer/window/ui.h"

#include <filesystem>
#include <optional>
#include <utility>
#include <vector>

namespace petalproof::window {

// How the open plan is left: it is closed, and another plan or a new wall may follow.
struct Leaving {
  bool closes_window = false;
  std::filesystem::path plan = {};                 // to open instead
  std::vector<std::filesystem::path> tables = {};  // of a new wall to make
};

class Questions {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

  void askWhereToSave(const app::State& state);
  // Leaves at once where everything is saved, except for a new wall, which is always asked about.
  void askBeforeLeaving(Leaving to);
  // The tables of a new wall that the person agreed to, once.
  std::vector<std::filesystem::path> takeTables() { return std::exchange(agreed_tables_, {}); }
  void showHelp() { asks_help_ = true; }
  // True once the window may close: unsaved work is saved or given up.
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
