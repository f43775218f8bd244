#pragma once
// The page of a window without a plan. The person opens a plan or the demo, or makes a first wall from a
// spreadsheet's tables or from four questions. Desk draws it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/panels/file_chooser.h"
#include "viewer/window/panels/first_questions.h"
#include "viewer/window/panels/table_fields.h"
#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"
#include "viewer/window/wall_sketch.h"

#include "viewer/app/first_wall.h"
#include "viewer/app/first_wall_maker.h"

#include <filesystem>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

namespace petalproof::window {

class StartPage {
 public:
  StartPage();

  app::Actions draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures);
  // Files of tables that were dropped on the window.
  void takeTables(const std::vector<std::filesystem::path>& files);
  bool wantsFrame() const { return result_ && *result_ && sketch_.wantsFrame(); }
  // True where the person asked for help, once.
  bool takeHelp() { return std::exchange(asks_help_, false); }

 private:
  enum class Way { open, tables, questions };  // of beginning
  void beginOnce(const app::State& state);
  void go(Way way);
  using Recipe = std::function<Result<app::FirstWall>(app::Pace, const app::FirstWall* before)>;
  void askForAnswers();
  void askFor(const Recipe& recipe);
  void drawWays(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawFoot(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawOpen(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawTables(const Ui& ui, WallPictures& pictures, app::Actions& actions);
  void drawQuestions(const Ui& ui, WallPictures& pictures, app::Actions& actions);
  void drawResult(const Ui& ui, app::Actions& actions);
  void drawPicture(const Ui& ui, ImVec2 size, WallPictures& pictures);

  bool begun_ = false;
  bool asks_help_ = false;
  Way way_ = Way::questions;
  FileChooser chooser_;
  TableFields tables_;
  FirstQuestions questions_;
  app::Answers answers_;
  app::FirstWallMaker maker_;
  std::optional<Result<app::FirstWall>> result_;  // stays while the next wall is made
  bool is_of_last_ask_ = false;                   // the result answers the last request, hastily or carefully
  bool takes_wall_ = false;  // start with the result of the last request as soon as it is made
  WallSketch sketch_;
};

}  // namespace petalproof::window
