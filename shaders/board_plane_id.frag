// The id of the board plane at a place: a panel's board, a slit between panels, or the space behind. The rule is the
// engine's (visibility buffer), so that IdPicture's pictures can be compared with the engine's.
uniform vec2 panel;       // mm
uniform float seam;       // mm
uniform vec2 cells;       // columns, rows
uniform usamplerBuffer hasPanel;  // for each cell, row by row from the top

in vec2 place;

layout(location = 0) out uint shown;

// As visibility::Sees has them.
const uint board = 2u;
const uint slit = 3u;
const uint behind = 4u;

const int kindShift = 29;  // an id's upper three bits are its kind, as in visibility::PixelId

bool panelAt(int column, int row) {
  if (column < 0 || row < 0 || column >= int(cells.x) || row >= int(cells.y)) return false;
  return texelFetch(hasPanel, row * int(cells.x) + column).r != 0u;
}

void main() {
  vec2 pitch = panel + seam;
  vec2 from_lower_left = place;
  vec2 cell = clamp(floor(from_lower_left / pitch), vec2(0.0), cells - 1.0);
  vec2 inside = from_lower_left - cell * pitch;
  int column = int(cell.x);
  int row = int(cells.y) - 1 - int(cell.y);
  bool in_right_slit = inside.x >= panel.x;
  bool in_upper_slit = inside.y >= panel.y;
  if (column == int(cells.x) - 1) in_right_slit = false;
  if (row == 0) in_upper_slit = false;
  if (!in_right_slit && !in_upper_slit) {
    shown = panelAt(column, row) ? board << kindShift | uint(row * int(cells.x) + column) : behind << kindShift;
    return;
  }
  bool is_slit;  // between panels; a slit beside an empty cell belongs to the space behind
  if (in_right_slit && in_upper_slit) {
    is_slit = int(panelAt(column, row)) + int(panelAt(column + 1, row)) + int(panelAt(column, row - 1)) +
              int(panelAt(column + 1, row - 1)) >= 2;
  } else if (in_right_slit) {
    is_slit = panelAt(column, row) && panelAt(column + 1, row);
  } else {
    is_slit = panelAt(column, row) && panelAt(column, row - 1);
  }
  shown = (is_slit ? slit : behind) << kindShift;
}
