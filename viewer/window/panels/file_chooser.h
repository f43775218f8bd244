#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

#include "viewer/app/folder_listing.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::window {

// Walks through folders to a file: one that is there, or a name for a new one.
class FileChooser {
 public:
  // Begins in that folder (empty: the person's own).
  void begin(const std::filesystem::path& folder, std::string name = {});

  // As high as `height`. The file, once it was chosen. `naming`: a name can be typed, for what is saved.
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

// A text that may be long, edited in place; true where it changed.
bool editText(const char* label, std::string& text, ImVec2 size);

}  // namespace petalproof::window
