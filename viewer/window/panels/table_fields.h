#pragma once
// The two tables that a maker keeps in a spreadsheet, the wall's cells and the list of blooms, as text to
// paste, drop or type. StartPage draws them.

#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

#include "engine/tables/tables.h"

#include <filesystem>
#include <string>

namespace petalproof::window {

class TableFields {
 public:
  // True where a table or a size changed and nothing is being typed. `made`: the plan that the tables gave;
  // may be nullptr. Its guessed sizes are shown faintly in empty fields.
  bool draw(const Ui& ui, const plan::Plan* made);
  // Takes the text of a dropped file; its name, or else its content, tells which table it is.
  void take(const std::filesystem::path& file, std::string text);
  bool isEmpty() const { return grid_.empty() && blooms_.empty(); }
  tables::TablesInput input() const;
  // The folder that mesh files named in the tables are relative to.
  const std::filesystem::path& folder() const { return folder_; }

 private:
  void drawSizes(const Ui& ui, const plan::Plan* made);
  void drawTable(const Ui& ui, const char* words, const char* example, std::string& text, ImVec2 size);

  Fields fields_;
  std::string grid_;
  std::string blooms_;
  std::string panel_;
  std::string size_;
  std::filesystem::path folder_;
  bool changed_ = false;
};

}  // namespace petalproof::window
