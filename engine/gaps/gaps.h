#pragma once
// Gaps: connected places where a shot sees bare board or an open seam, with their size on the wall.
// The check finds them for each shot; readings, fillings and reports start from them.

#include "engine/base/frames.h"
#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/gaps/components.h"
#include "engine/scene/scene.h"
#include "engine/visibility/pixel_mask.h"
#include "engine/visibility/visibility_buffer.h"

#include <cstdint>
#include <stop_token>
#include <string>
#include <vector>

namespace petalproof::gaps {

enum class GapKind { crossing, seam, board };

// The part of the wall that a bare pixel belongs to. `column` and `row` are those of the panel, of a seam's
// left or upper panel, or of a crossing's upper left panel.
struct Owner {
  GapKind kind = GapKind::board;
  int column = 0;
  int row = 0;
  bool upright = false;  // a seam between panels side by side
  friend bool operator==(const Owner&, const Owner&) = default;
};

// "B2", "B2|C2", "B2/B3", "B2+C3".
std::string nameOf(const Owner& owner);

// The owner of a bare place: the crossing (of four panels) whose middle is within 25 mm, else the nearest
// seam (the piece of a slit's middle line between its two panels) within 25 mm, else the panel. Ties go to
// the lower row, then column, then the upright seam. In a slit so wide that no middle is near, the owner is
// the seam of that slit; where slits cross, the nearest seam that ends there, or the nearest panel if there
// is none. The rule is the same on covered ground, where only slits are bare.
constexpr double owner_reach_mm = 25.0;
Owner ownerOf(const scene::PanelGrid& panels, BoardPoint bare_place);

struct Gap {
  int number = 0;  // from 1, by the first pixel from the top, then from the left
  int hole = 0;    // the number of the hole that it belongs to
  Owner owner;
  glm::dvec2 centre_mm{0};  // of its area
  double area_mm2 = 0;  // of its pixels. A pixel is bare if its centre is: along the rim that is off by up to
                        // half a pixel, which matters in slits a few pixels wide
  double width_mm = 0;  // diameter of the largest circle inside
  double length_mm = 0;  // longest distance between two of its points
  std::int64_t pixels = 0;
  bool behind_people = false;          // people hide more than half of its pixels
  std::vector<glm::dvec2> outline_mm;  // simplified outer outline, closed (first point = last)
  std::vector<Run> runs;               // its pixels
};

struct Specks {
  std::int64_t count = 0;
  double area_mm2 = 0;
};

// All that touches of what is bare, whoever owns it: what somebody looking at the picture sees as one.
struct Hole {
  Gap whole;  // as a gap: number from 1, by first pixel; its own measures and pixels, those of specks too.
              // Its owner and its centre are those of its largest gap, to say where it is
  std::vector<std::size_t> gaps;  // indices into GapsOfShot::gaps
  double width_px = 0;            // diameter of the largest disc that fits into it, in pixels of the picture
};

struct GapsOfShot {
  std::vector<Gap> gaps;    // by number
  std::vector<Hole> holes;  // by number; those of specks alone aren't listed
  Specks specks;            // fewer than 4 pixels, or under 1 mm wide
};

// Which measures of gaps are taken: `widths` leaves `length_mm`, `outline_mm` and `width_px` out, for callers
// that look at many builds.
enum class GapMeasures { all, widths };

// The result doesn't depend on the pool. `stop` is asked for each gap.
GapsOfShot findGaps(const visibility::VisibilityBuffer& buffer, const scene::PanelGrid& panels,
                    const camera::Camera& camera, const Pool& pool, GapMeasures measures = GapMeasures::all,
                    const std::stop_token& stop = {});

// The gaps of a mask of bare pixels, without people; on one thread.
GapsOfShot findGaps(const visibility::PixelMask& bare, const scene::PanelGrid& panels,
                    const camera::Camera& camera, GapMeasures measures);

// True for a pixel that is bare: board (unless the ground is covered) or seam.
bool isBare(visibility::PixelId id, const scene::PanelGrid& panels);

}  // namespace petalproof::gaps
