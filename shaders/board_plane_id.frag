// What the board plane has at a place; the rule is the engine's, for pictures beside its own.
uniform vec2 panel;       // mm
uniform float seam;       // mm
uniform vec2 cells;       // columns, rows
uniform vec2 outline;     // mm
uniform usamplerBuffer panelThere;  // row by row from the top

in vec2 place;

layout(location = 0) out uint shown;

const uint board = 2u;
const uint slit = 3u;
const uint behind = 4u;

bool there(int column, int row) {
  if (column < 0 || row < 0 || column >= int(cells.x) || row >= int(cells.y)) return false;
  return texelFetch(panelThere, row * int(cells.x) + column).r != 0u;
}

int count(bool one) { return one ? 1 : 0; }

void main() {
  vec2 pitch = panel + seam;
  vec2 from_left_low = place;
  vec2 cell = clamp(floor(from_left_low / pitch), vec2(0.0), cells - 1.0);
  vec2 inside = from_left_low - cell * pitch;
  int column = int(cell.x);
  int row = int(cells.y) - 1 - int(cell.y);
  bool across = inside.x >= panel.x;  // in the slit to the right
  bool up = inside.y >= panel.y;      // in the slit above
  if (column == int(cells.x) - 1) across = false;
  if (row == 0) up = false;
  if (!across && !up) {
    shown = there(column, row) ? board << 29 | uint(row * int(cells.x) + column) : behind << 29;
    return;
  }
  bool open;
  if (across && up) {
    open = count(there(column, row)) + count(there(column + 1, row)) + count(there(column, row - 1)) +
           count(there(column + 1, row - 1)) >= 2;
  } else if (across) {
    open = there(column, row) && there(column + 1, row);
  } else {
    open = there(column, row) && there(column, row - 1);
  }
  shown = (open ? slit : behind) << 29;
}
