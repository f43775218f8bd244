#include "engine/plan/starter_plan.h"

#include "engine/base/length_text.h"
#include "engine/plan/findings.h"
#include "engine/plan/internal/toml_text.h"
#include "engine/plan/leaf_plate.h"
#include "engine/plan/plan_defaults.h"
#include "engine/plan/read_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace petalproof::plan {
namespace {

// A bloom within a layout, in shares of the panel's width and height; the most important blooms first.
struct Spot {
  std::string_view bloom;
  double across;
  double down;
  int turn_deg;
};

constexpr std::array swell = {
    Spot{"plum", 0.27, 0.34, 20},    Spot{"apricot", 0.72, 0.70, 0}, Spot{"apricot", 0.74, 0.20, 40},
    Spot{"cream", 0.22, 0.84, 10},   Spot{"cream", 0.97, 0.46, 70},  Spot{"sprig", 0.47, 0.88, 100},
    Spot{"sprig", 0.98, 0.95, 45},   Spot{"sprig", 0.02, 0.06, -45}, Spot{"bead", 0.49, 0.57, 0},
    Spot{"cream", 0.51, 0.08, 30},   Spot{"bead", 0.93, 0.72, 0},    Spot{"bead", 0.04, 0.63, 0},
    Spot{"sprig", 0.97, 0.04, -120},
};

constexpr std::array ebb = {
    Spot{"plum", 0.70, 0.62, -10},  Spot{"apricot", 0.26, 0.28, 15}, Spot{"apricot", 0.25, 0.78, 65},
    Spot{"cream", 0.76, 0.14, 0},   Spot{"cream", 0.50, 0.16, 35},   Spot{"sprig", 0.02, 0.52, 0},
    Spot{"sprig", 0.98, 0.97, 135}, Spot{"sprig", 0.03, 0.97, -140}, Spot{"bead", 0.47, 0.44, 0},
    Spot{"cream", 0.48, 0.94, 20},  Spot{"bead", 0.98, 0.30, 0},     Spot{"bead", 0.05, 0.05, 0},
    Spot{"sprig", 0.97, 0.05, 60},
};

// The sizes of the wall to write, and how to round them.
class Draft {
 public:
  explicit Draft(const StarterOptions& options) : options_(options) {
    step_ = options.units == Units::inch ? 0.25 : options.units == Units::centimetre ? 0.5 : 5.0;
    constexpr double least_steps = 40;  // on a panel's shorter side, or places get too coarse
    while (shorterSide() < least_steps * step_) step_ /= 2;
  }

  double shorterSide() const { return std::min(options_.panel.width.value, options_.panel.height.value); }
  // Rounds to the steps of this wall's places.
  double onMark(double length) const { return std::round(length / step_) * step_; }
  std::string marked(double length) const { return numberText(onMark(length)); }
  std::string share(double of_shorter_side) const { return marked(of_shorter_side * shorterSide()); }

  // The base plate of a leaf of that length.
  std::string leafPlate(double of_shorter_side) const {
    return numberText(plan::leafPlate({onMark(of_shorter_side * shorterSide())}, options_.units).value);
  }

  double seam() const { return std::min(usual_seam.in(options_.units).value, shorterSide() / 20); }
  double width() const { return options_.columns * (options_.panel.width.value + seam()) - seam(); }
  double height() const { return options_.rows * (options_.panel.height.value + seam()) - seam(); }
  double aboveFloor() const { return UsualLength{6, 15, 150}.in(options_.units).value; }
  // A length that is the same on every wall, to a whole inch, centimetre or ten millimetres.
  double paced(double mm) const {
    const double step = options_.units == Units::millimetre ? 10 : 1;
    return std::round(mm / millimetresPer(options_.units) / step) * step;
  }
  std::string pacedText(double mm) const { return numberText(paced(mm)); }

  const StarterOptions& options() const { return options_; }

 private:
  StarterOptions options_;
  double step_ = 0;
};

std::string_view keyOf(Units units) { return unitName(units); }

std::string heading(const Draft& draft) {
  return fmt::format(
      R"(# A plan for a wall of paper blooms. It is plain text: change it in any editor, save it, check it again.
# What follows # on a line is a remark for people. Texts stand in double quotes, decimals take a point.

format = 1        # the kind of this file, leave it
title  = {}
units  = "{}"     # in, cm or mm: what every plain number below counts. A length may also be a text,
                  # such as "7 1/4", "8 ft 4 in" or "60 cm".
seed = 1          # another number: other small differences between copies of a bloom
variation = 1     # how much handmade copies differ; 0: not at all
)",
      tomlText(draft.options().title), keyOf(draft.options().units));
}

std::string cellOf(int column, int row) {
  const std::string layout = (column + row) % 2 == 0 ? "swell" : "ebb";
  return tomlText((column + 2 * row) % 4 == 3 || (column + 2 * row) % 4 == 0 ? layout
                                                                             : layout + " upside down");
}

std::string grid(const StarterOptions& options) {
  std::string text = "grid = [\n";
  for (int row = 0; row < options.rows; ++row) {
    std::vector<std::string> cells;
    for (int column = 0; column < options.columns; ++column) cells.push_back(cellOf(column, row));
    text += fmt::format("  {},\n", tomlList(cells));
  }
  return text + "]\n";
}

std::string wall(const Draft& draft) {
  const StarterOptions& options = draft.options();
  return fmt::format(R"(
# ---- The wall: panels of foam board, edge to edge ----
[wall]
columns = {}       # panels side by side
rows    = {}       # panels one above the other
panel   = [{}, {}]   # a panel's width and height
seam    = {}  # the open slit that is left between two panels
above_floor = {}   # from the floor to the lower edge of the bottom row
board   = {{ thickness = {}, colour = "#ffffff", ground = "bare" }}   # ground = "covered" if the board is
                  # meant to be seen (paper, cloth, paint): then only its seams count as gaps
behind  = "#2e2b2a"   # the colour of what stands behind the wall
mounting = "frame"    # or "solid wall"
# room = {{ colour = "#8f8a84", ceiling = {}, depth = {} }}   # colour beyond the wall, how high the room is,
                  # how much free floor there is in front
# Which layout hangs in which panel: top row first, seen from the front. The panels are named A1, B1, ... in
# the top row. "" leaves a panel out; "swell upside down" is the layout turned around.
# A spreadsheet's CSV file does as well: grid = "my-grid.csv"
)",
                     options.columns, options.rows, numberText(options.panel.width.value),
                     numberText(options.panel.height.value), numberText(draft.seam()),
                     numberText(draft.aboveFloor()), numberText(usual_thickness.in(options.units).value),
                     draft.pacedText(2700), draft.pacedText(6000)) +
         grid(options);
}

std::string blooms(const Draft& draft) {
  return fmt::format(R"(
# ---- The blooms: one [[bloom]] for each kind ----
# Shapes: dahlia, cone dahlia, petal bloom, peony, rose, bud, rosette, daisy, pompom, leaf, leaf spray, fern;
# or mesh = "my-bloom.obj" for a 3D model of your own.
[[bloom]]
name = "plum"             # how the layouts below call it
label = "Plum dahlia"     # how people call it; may be left out, as may all that follows but the colour
shape = "dahlia"
diameter = {0}
# depth = {1}               # how far it stands out from the board; left out: as is usual for the shape
colour = ["#7a3b52", "#8c4760"]   # one colour, or several that copies take in turn
sheets = 8                # sheets of card for one
strips = 3                # adhesive strips for one
minutes = 45              # cutting and building one
# plate = {2}               # the disc that is stuck to the board; left out: 0.3 of the diameter

[[bloom]]
name = "apricot"
shape = "peony"
diameter = {3}
colour = "#e59a6a"
sheets = 5
strips = 2
minutes = 30

[[bloom]]
name = "cream"
shape = "rose"
diameter = {4}
colour = "#f3e3cf"
sheets = 3
strips = 2
minutes = 25
filler = true             # may be added to hide bare board
# stock = 12              # how many there are at most for that

[[bloom]]
name = "sprig"
shape = "leaf spray"
diameter = {5}            # of leaf, leaf spray and fern: the length
# width = {6}               # and only these have a width
colour = "#7f9277"
sheets = 1
strips = 1
minutes = 12
plate = {8}                 # of a leaf the end of its stalk sticks, however long it is
filler = true

[[bloom]]
name = "bead"
shape = "bud"
diameter = {7}
colour = ["#e8b48f", "#f3e3cf"]
sheets = 1
strips = 1
minutes = 8
filler = true
)",
                     draft.share(0.7), draft.share(0.2), draft.share(0.25), draft.share(0.55),
                     draft.share(0.38), draft.share(0.5), draft.share(0.2), draft.share(0.2),
                     draft.leafPlate(0.5));
}

std::string layout(const Draft& draft, std::string_view name, std::span<const Spot> spots) {
  std::string text = fmt::format("\n[[layout]]\nname = \"{}\"\nblooms = [\n", name);
  for (const Spot& spot : spots) {
    const std::string turn = spot.turn_deg == 0 ? "" : fmt::format(", turn = {}", spot.turn_deg);
    text += fmt::format("  {{ bloom = \"{}\", at = [{}, {}]{} }},\n", spot.bloom,
                        draft.marked(spot.across * draft.options().panel.width.value),
                        draft.marked(spot.down * draft.options().panel.height.value), turn);
  }
  return text + "]\n";
}

// A very large wall gets fewer blooms a panel, so that it keeps to the limit of blooms on a wall.
std::size_t bloomsAPanel(const StarterOptions& options) {
  const int most = PlanLimits{}.blooms_on_wall / (options.columns * options.rows);
  return std::min(swell.size(), static_cast<std::size_t>(std::max(1, most)));
}

std::string layouts(const Draft& draft) {
  const std::size_t count = bloomsAPanel(draft.options());
  return R"(
# ---- The layouts: which blooms sit where on a panel ----
# at: the bloom's middle, from the panel's left edge and from its top edge; it may hang over the edge.
# turn: degrees clockwise. raised = ... lifts its base plate off the board. colour = "#..." for this one only.
)" + layout(draft, "swell", std::span(swell).first(count)) +
         layout(draft, "ebb", std::span(ebb).first(count));
}

struct Frame {
  double across_mm;
  double down_mm;
};

// How far out a 50 mm lens sees `times` the wall's width and height.
double distanceToSee(const Draft& draft, double times, Frame sensor) {
  constexpr double lens_mm = 50;
  return std::max(lens_mm / sensor.across_mm * times * draft.width(),
                  lens_mm / sensor.down_mm * times * draft.height());
}

std::string wholeWallShot(const Draft& draft) {
  const bool upright = draft.height() > draft.width();
  const double out = distanceToSee(draft, 1.05, upright ? Frame{24, 36} : Frame{36, 24});
  const double middle = draft.aboveFloor() + draft.height() / 2;
  return fmt::format(R"(
[[shot]]
name = "whole wall"
sensor = "full frame"
upright = {}
lens = 50
camera = [0, {}, {}]
aim = [0, {}]
)",
                     tomlFlag(upright), draft.marked(middle), numberText(std::ceil(out)),
                     draft.marked(middle));
}

// Whether two people side by side, in three-quarter length, have wall behind them.
bool peopleFit(const Draft& draft) {
  constexpr double least_width_mm = 1200;
  constexpr double least_height_mm = 1500;
  const double mm = millimetresPer(draft.options().units);
  return draft.width() * mm >= least_width_mm && draft.height() * mm >= least_height_mm;
}

// Two people in front of the wall if they fit; else the wall's middle from near.
std::string nearShot(const Draft& draft) {
  if (peopleFit(draft))
    return fmt::format(R"(name = "couple"
label = "Couple, three-quarter"   # may be left out
sensor = "full frame"     # or APS-C, four thirds, 1 inch, phone, or width and height in mm, such as [36, 24]
upright = true            # the camera turned to portrait
megapixels = 24
lens = 85                 # mm; a zoom: [70, 200]; or lens_equivalent = 26 for a phone, as it is advertised
aperture = 4
camera = [0, {0}, {1}]    # right of the wall's middle, above the floor, out from the board
aim = [0, {0}]            # the point it looks at: right of the wall's middle, above the floor
# focus = {2}               # distance that is sharp; left out: the nearest eyes, or the wall
crop = [8, 10]            # shape of the delivered picture; left out: the sensor's
looked_at = "print 8x10"  # or phone, album, laptop, or {{ width = ..., distance = ... }}
people = [                # how tall, and where they stand: right of the middle, out from the board
  {{ height = {3}, at = [{4}, {5}] }},
  {{ height = {6}, at = [{7}, {5}] }},
]
)",
                       draft.pacedText(1370), draft.pacedText(4000), draft.pacedText(2780),
                       draft.pacedText(1680), draft.pacedText(-180), draft.pacedText(1220),
                       draft.pacedText(1780), draft.pacedText(180));
  const double middle = draft.aboveFloor() + draft.height() / 2;
  const double out = 50.0 / 36 * 0.7 * std::min(draft.width(), draft.height());
  return fmt::format(R"(name = "detail"
label = "The middle, from near"   # may be left out
sensor = "full frame"     # or APS-C, four thirds, 1 inch, phone, or width and height in mm, such as [36, 24]
upright = false           # true: the camera turned to portrait
megapixels = 24
lens = 50                 # mm; a zoom: [70, 200]; or lens_equivalent = 26 for a phone, as it is advertised
aperture = 4
camera = [0, {0}, {1}]    # right of the wall's middle, above the floor, out from the board
aim = [0, {0}]            # the point it looks at: right of the wall's middle, above the floor
# focus = {1}               # distance that is sharp; left out: the nearest eyes, or the wall
# crop = [8, 10]          # shape of the delivered picture; left out: the sensor's
# looked_at = "phone"     # or "print 8x10", album, laptop, or {{ width = ..., distance = ... }}
# people = [ {{ height = {2}, at = [0, {3}] }} ]   # how tall, and where: right of the middle, out from the board
)",
                     draft.marked(middle), draft.marked(out), draft.pacedText(1700), draft.pacedText(1220));
}

std::string shots(const Draft& draft) {
  return "\n# ---- The shots: the photographs to check ----\n[[shot]]\n" + nearShot(draft) +
         wholeWallShot(draft);
}

}  // namespace

StarterOptions starterOptions(Units units) {
  StarterOptions options;
  options.units = units;
  if (units == Units::centimetre) options.panel = {{60}, {50}};
  if (units == Units::millimetre) options.panel = {{600}, {500}};
  return options;
}

std::string starterPlan(const StarterOptions& options) {
  const Draft draft(options);
  return heading(draft) + wall(draft) + blooms(draft) + layouts(draft) + shots(draft);
}

}  // namespace petalproof::plan
