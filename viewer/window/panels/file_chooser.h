#pragma once
// Lets the person choose a file in the window: an existing plan to open, or a name to save under. The start
// page and the questions draw it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

#include "viewer/app/folder_listing.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::window {

class FileChooser {
 public:
  // Begins in a folder; empty: the person's home.
  void begin(const std::filesystem::path& folder, std::string name = {});

  // Returns the file in the frame in which it was chosen. `naming`: a name can be typed, for saving.
  std::optional<std::filesystem::path> draw(const Ui& ui, float height, bool naming);

 private:
  void goTo(const std::filesystem::path& folder);
  void drawWay(const Ui& ui);

  std::filesystem::path folder_;
  std::string name_;
  std::vector<app::FolderEntry> entries_;
  std::string problem_;
  bool takes_focus_ = false;
};

// A field for a long text, edited in place; true where it changed.
bool editText(const char* label, std::string& text, ImVec2 size);

}  // namespace petalproof::window
