#pragma once
// Where a maker begins: a plan there is, the demo, the tables of a spreadsheet, or four questions.

#include "viewer/window/panels/fields.h"
#include "viewer/window/panels/file_chooser.h"
#include "viewer/window/ui.h"

#include "viewer/app/first_wall.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::window {

class StartPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui, const Area& area);
  // A file of a table that was dropped on the window.
  void takeTable(const std::filesystem::path& file);

 private:
  enum class Way { open, tables, questions };
  void drawWays(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawOpen(const app::State& state, const Ui& ui, app::Actions& actions);
  void drawTables(const Ui& ui, app::Actions& actions);
  void drawTableField(const Ui& ui, const char* words, std::string& text, ImVec2 size);
  void drawQuestions(const Ui& ui, app::Actions& actions);
  void drawSizes(const Ui& ui);
  void drawRecipe(const Ui& ui);
  void drawResult(const Ui& ui, app::Actions& actions);
  TablesInput tables() const;

  Way way_ = Way::open;
  FileChooser chooser_;
  bool chooser_begun_ = false;
  Fields fields_;
  std::string grid_;
  std::string blooms_;
  std::string panel_;
  std::string size_;
  std::filesystem::path tables_folder_;
  app::Answers answers_;
  bool wants_result_ = false;  // something changed since the wall was made
  std::optional<Result<app::FirstWall>> result_;
};

}  // namespace petalproof::window
