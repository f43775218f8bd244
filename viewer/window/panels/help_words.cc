#include "viewer/window/panels/help_words.h"

#include <array>

namespace petalproof::window {

std::span<const HelpPart> helpParts() {
  static constexpr std::array<HelpPart, 10> parts{
      {{"What this is for",
        "It shows a wall of paper blooms before the first sheet is cut, as it hangs and as the "
        "photographer's "
        "pictures will show it, finds the bare board and the seams in them, and the fewest small blooms that "
        "hide "
        "those."},
       {"The wall drawing",
        "The wall flat and to scale, with a tape along its left and upper edge. Click a bloom to pick it, "
        "with Shift "
        "several; drag it, turn it with the wheel, move it by the arrow keys. A bloom belongs to a layout: "
        "what "
        "changes on one panel changes on every panel of that layout. \"Its own layout\" on the page Wall "
        "sets a "
        "panel free from the others."},
       {"The floor plan",
        "The room from above. Drag the camera, the people, or the point the camera looks at. By keys: F5 "
        "goes there, "
        "Tab from one of them to the next, arrows move it (with Shift by a hair), Escape goes back to the "
        "wall."},
       {"The prints",
        "Each shot as its picture will be, with the number of gaps that show in it. Click one to work with "
        "it."},
       {"Gaps",
        "A gap is one place where a shot sees bare board or an open seam. It shows (a whole line) when "
        "somebody who "
        "looks at the picture sees it, is faint (dashes) when only who looks for it does, and is lost (dots) "
        "among "
        "petals and shades. While the hand moves, gaps are found in a small picture; once it rests they are "
        "found in "
        "the full one, and read. B2|C2 is the seam between two panels side by side, B2/B3 between one above "
        "the "
        "other, B2+C3 the crossing where four meet."},
       {"Fillers",
        "Small blooms that hang on the wall for no other reason than to hide a gap. Those that the hand "
        "fixed stay "
        "where they are when fillers are placed anew."},
       {"Nothing is lost",
        "Every step can be undone, as many as there were. What isn't saved yet is kept beside the plan and "
        "offered "
        "again, whatever ended the program."},
       {"Keys, anywhere",
        "F1 this page; F2, F3, F4 the three views; 1 to 9 the shots; Ctrl+1 to Ctrl+6 the pages of the "
        "notebook, then arrows and Tab go through what is on it, Space or Enter presses, Escape lets go. n "
        "and N "
        "the next gap and the one before. m marks, h heat, p people, t thirds, b blur. Ctrl+Z undo, "
        "Ctrl+Shift+Z "
        "redo, Ctrl+S save."},
       {"Keys, on the wall drawing",
        "An arrow picks the bloom in the middle; then arrows move it (with Shift by a hair), Ctrl+arrow "
        "picks "
        "the next one that way. r and R turn it, Ctrl+D copies it, Delete takes it off. Alt+arrow picks a "
        "panel, "
        "Alt+Shift+arrow swaps it with that neighbour, u hangs it upside down. Page up and Page down come "
        "closer "
        "and go back, Home shows the whole wall."},
       {"Keys, walking around",
        "W A S D or arrows walk, Q and E turn, Page up and Page down rise and stoop."}}};
  return parts;
}

}  // namespace petalproof::window
