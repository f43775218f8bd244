#pragma once
// A plan as its maker wrote it: values only, lengths in the plan's unit, names as typed. Meaning, unit,
// default and range of each key stand beside its field. Places are measured as with a tape, seen from the
// front: from the left edge and from the top edge.

#include "engine/base/colour.h"
#include "engine/base/grid.h"
#include "engine/base/units.h"

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace petalproof::plan {

enum class Ground { bare, covered };
enum class Mounting { frame, solidWall };

enum class Shape {
  dahlia,
  coneDahlia,
  petalBloom,
  peony,
  rose,
  bud,
  rosette,
  daisy,
  pompom,
  leaf,
  leafSpray,
  fern
};

// A place measured from the left and top edge of a panel or of the wall, as with a tape.
struct TapePoint {
  Length from_left;
  Length from_top;
  friend bool operator==(const TapePoint&, const TapePoint&) = default;
};

struct Size {
  Length width;
  Length height;
  friend bool operator==(const Size&, const Size&) = default;
};

struct Board {
  Length thickness;  // default 3/16 in
  Colour colour{255, 255, 255};
  std::optional<Colour> edge;  // of the cut edge; default: the board's colour
  Ground ground = Ground::bare;
  friend bool operator==(const Board&, const Board&) = default;
};

struct Room {
  std::optional<Colour> colour;   // beyond the wall's outer edge
  std::optional<Length> ceiling;  // above the floor
  std::optional<Length> depth;    // free floor in front of the wall
  friend bool operator==(const Room&, const Room&) = default;
};

// A cell of the grid; an empty `layout` means that no panel hangs there.
struct Cell {
  std::string layout;
  bool upside_down = false;
  bool hasPanel() const { return !layout.empty(); }
  friend bool operator==(const Cell&, const Cell&) = default;
};

struct Wall {
  int columns = 0;
  int rows = 0;
  Size panel;
  Length seam;         // open width left between neighbours; default 1/16 in
  Length above_floor;  // default 0
  Board board;
  Colour behind{46, 43, 42};  // of the wall behind open seams and empty cells
  Room room;
  Mounting mounting = Mounting::frame;
  Grid<Cell> grid;  // columns x rows, top row first
  friend bool operator==(const Wall&, const Wall&) = default;
};

struct Card {
  std::string name;
  double sheets = 0;
  friend bool operator==(const Card&, const Card&) = default;
};

// An OBJ file of the maker's own; the path as written, relative to the plan's folder.
struct MeshFile {
  std::string path;
  friend bool operator==(const MeshFile&, const MeshFile&) = default;
};

struct Bloom {
  std::string name;
  std::string label;  // empty: none
  std::variant<Shape, MeshFile> form = Shape::dahlia;
  Length diameter;              // leaf, leaf spray, fern: length
  std::optional<Length> width;  // leaf, leaf spray, fern only
  std::optional<Length> depth;  // how far it stands out from the board; default: the shape's share
  std::optional<int> petals;    // 1 to 60; shapes only, as are layers
  std::optional<int> layers;    // 1 to 8
  std::vector<Colour> colours;  // at least one
  std::vector<Card> card;       // `sheets = 9` is one card without a name
  double strips = 0;            // adhesive strips for a copy
  std::optional<Length> plate;  // base plate; default 0.3 of the diameter
  double minutes = 0;           // cutting and building a copy
  bool filler = false;
  std::optional<int> stock;  // most copies used as fillers
  friend bool operator==(const Bloom&, const Bloom&) = default;
};

struct Placement {
  std::string bloom;
  TapePoint at;         // on the panel; may hang over its edge
  double turn_deg = 0;  // clockwise seen from the front
  Length raised;        // its base plate above the board
  std::optional<Colour> colour;
  friend bool operator==(const Placement&, const Placement&) = default;
};

struct Layout {
  std::string name;
  std::vector<Placement> blooms;
  friend bool operator==(const Layout&, const Layout&) = default;
};

struct Filler {
  Placement placement;  // `at` on the wall
  bool fixed = false;
  friend bool operator==(const Filler&, const Filler&) = default;
};

struct Person {
  Length height;
  Length right_of_centre;
  Length out_from_board;
  friend bool operator==(const Person&, const Person&) = default;
};

// A sensor held level (landscape). `name` is empty for a sensor given in millimetres.
struct Sensor {
  std::string name;
  double width_mm = 36;
  double height_mm = 24;
  friend bool operator==(const Sensor&, const Sensor&) = default;
};

struct FocalLength {
  double mm = 50;                              // of a zoom: its short end
  bool full_frame_equivalent = false;          // `lens_equivalent`: by the diagonal, 43.27 mm
  std::optional<double> to_mm = std::nullopt;  // a zoom, `lens = [70, 200]`: its long end, above `mm`
  friend bool operator==(const FocalLength&, const FocalLength&) = default;
};

// How people look at the delivered picture: its width and the distance of the eye. engine/camera/looked_at.h
// has the sizes behind the names.
struct LookedAt {
  std::string name;  // "print 8x10", "phone", "album", "laptop"; empty: by the two lengths
  Length width;
  Length distance;
  friend bool operator==(const LookedAt&, const LookedAt&) = default;
};

struct CropShape {
  double width = 1;
  double height = 1;
  friend bool operator==(const CropShape&, const CropShape&) = default;
};

struct Shot {
  std::string name;
  std::string label;  // empty: none
  Sensor sensor;
  bool upright = false;
  double megapixels = 24;
  FocalLength lens;
  double aperture = 5.6;
  Length camera_right;  // right of the wall's centre line
  Length camera_above_floor;
  Length camera_out;  // from the board
  Length aim_right;
  Length aim_above_floor;
  std::optional<Length>
      focus;  // from the camera, along the lens axis; default: the nearest eyes, else the wall
  std::optional<CropShape> crop;
  std::optional<LookedAt> looked_at;  // default: its longer side 254 mm long, 333 mm from the eye
  std::vector<Person> people;
  friend bool operator==(const Shot&, const Shot&) = default;
};

// The errors of building by hand, a standard deviation each. A [hands] section that leaves a key
// out means the usual value for it (plan_defaults.h); a plan without the section has none.
struct Hands {
  double bloom_size = 0;   // share of the diameter
  double bloom_depth = 0;  // share of the depth
  Length place;
  double turn_deg = 0;
  Length hang;
  Length step;
  friend bool operator==(const Hands&, const Hands&) = default;
};

// The measures by which a hole in the wall counts as noticed in the picture as people look at it.
struct ReadingThresholds {
  double faint = 2.3;  // one just noticeable difference: M. Mahy, L. Van Eycken, A. Oosterlinck, "Evaluation
                       // of uniform color spaces developed after the adoption of CIELAB and CIELUV", 1994;
                       // a hole whose colour difference (CIE 1976) is under it is lost
  // A hole that is odder than this share of the wall's own pieces of paper is at least faint, or shows.
  double odd_faint = 0.75;
  double odd_shows = 0.9;  // at least `odd_faint`
  friend bool operator==(const ReadingThresholds&, const ReadingThresholds&) = default;
};

struct Plan {
  std::string title;
  Units units = Units::inch;
  std::uint64_t seed = 1;
  double variation = 1;  // 0 to 5
  Wall wall;
  std::vector<Bloom> blooms;
  std::vector<Layout> layouts;
  std::vector<Filler> fillers;
  std::vector<Shot> shots;
  std::optional<Hands> hands;
  ReadingThresholds reading;
  friend bool operator==(const Plan&, const Plan&) = default;
};

inline double toMillimetres(Length length, const Plan& plan) { return toMillimetres(length, plan.units); }

// The bloom (layout) of that name; nullptr if there is none.
const Bloom* findBloom(const Plan& plan, const std::string& name);
const Layout* findLayout(const Plan& plan, const std::string& name);

// "A", "Z", "AA": the letters of a column counted from 0, as in a spreadsheet.
std::string columnLetters(int column);
// "B2": column letters and row number, A1 top left seen from the front.
std::string cellName(int column, int row);

// The outer size of the whole grid: columns * panel + (columns - 1) * seam, likewise down.
Size wallOutline(const Wall& wall);

}  // namespace petalproof::plan
