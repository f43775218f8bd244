#pragma once
// Lays a picture on a sheet of paper with a heading above it and a key below; all marked pictures and maps
// stand on it.

#include "engine/report/internal/drawing.h"

#include <functional>
#include <string>
#include <vector>

namespace petalproof::report {

inline constexpr Colour sheet_paper{252, 250, 246};
inline constexpr Colour sheet_ink{44, 42, 40};
inline constexpr Colour sheet_grey{112, 106, 100};
inline constexpr Colour sheet_rule{214, 207, 197};

// An entry of the key: a drawn sample, and what it means.
struct KeyEntry {
  std::function<void(Drawing&, const PixelRect&)> sample;
  std::string meaning;
};

struct SheetText {
  std::string title;                 // large
  std::vector<std::string> details;  // below the title, grey
  std::string finding;               // the check's result, below the details, bold
  std::vector<KeyEntry> key;
  std::vector<std::string> notes;  // below the key
};

// How the sheet is laid out around a picture of that size.
struct SheetLayout {
  int width_px = 0;
  int height_px = 0;
  int picture_left = 0;
  int picture_top = 0;
};

// `beside_px`: room that the picture needs at its left and upper edge (for tape measures). Narrow pictures
// stand in the middle of a sheet wide enough for the words.
SheetLayout layOut(const SheetText& text, glm::ivec2 picture_px, int beside_px = 0);

// Draws the sheet with its words; the caller draws the picture.
Drawing startSheet(const SheetText& text, const SheetLayout& layout, glm::ivec2 picture_px);

}  // namespace petalproof::report
