#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

#include "engine/tables/tables.h"

#include <filesystem>
#include <string>

namespace petalproof::window {

// The two tables a maker keeps in a spreadsheet, as text to be pasted, dropped or typed.
class TableFields {
 public:
  // True where something changed and isn't still being typed. `made`: the plan that the tables came to, if
  // any; what was guessed shines through the fields.
  bool draw(const Ui& ui, const plan::Plan* made);
  // The text of a file, told by its name which of the two it is.
  void take(const std::filesystem::path& file, std::string text);
  bool isEmpty() const { return grid_.empty() && blooms_.empty(); }
  tables::TablesInput input() const;
  // What mesh files named in the tables are relative to.
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
