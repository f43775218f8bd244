#pragma once
// What has to be hidden: (place on the board plane, shot) pairs, taken from a check while it runs.

#include "engine/candidates/internal/place_grid.h"
#include "engine/check/check.h"
#include "engine/scene/handmade.h"
#include "engine/visibility/pixel_mask.h"

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::candidates {

// Which bare places the fillers have to hide: of gaps that show; of gaps that show or are faint; every bare
// place that a shot sees, specks too.
enum class Hide { shows, faint, all };

// Shots taken from one point hide alike: a place belongs to the eye. Each simulated build has eyes of its
// own.
struct Eye {
  glm::dvec3 at{0};
  const scene::HandBuild* build = nullptr;  // where fillers come out otherwise than planned
  PlaceBits places;                         // of the whole grid
  std::vector<glm::dvec2> others;           // places off the grid, where a gap slips between its lines
  bool any() const;
};

// Which gaps of which eye a place of the grid is in, for the list of what each filler hides.
struct PlaceOfGap {
  std::uint32_t place = 0;
  std::uint32_t eye = 0;
  std::uint32_t shot = 0;  // index into Check::shots
  std::uint32_t gap = 0;   // index into GapsOfShot::gaps
};

struct MustHide {
  std::vector<Eye> eyes;
  std::vector<PlaceOfGap> gaps;  // by shot, then gap, then place
  std::int64_t pairs() const;
};

// Whether a gap has to be hidden: under `all` in any case, else if its hole reads so.
bool mustHide(Hide hide, const check::ShotCheck& shot, const gaps::Gap& gap);
// What may be left of a gap reads no more than this.
reading::Reads mostLeft(Hide hide);

constexpr double widest_rim_share = 0.35;  // of a gap's width may stay: its middle has to go

// How wide a strip of the same board may stay along the rim of a gap and read as nothing; no more than a
// third or so of its width, for its middle has to go. 0 under `all`.
double lostRim_mm(const check::ShotCheck& shot, std::size_t gap, Hide hide,
                  const plan::ReadingThresholds& thresholds);

class MustHideCollector {
 public:
  MustHideCollector(const PlaceGrid& grid, Hide hide, const plan::ReadingThresholds& thresholds)
      : grid_(grid), hide_(hide), thresholds_(thresholds) {}

  // Of a shot as the check finds it, and the pixels that it sees bare. `rim`: leave what reads lost along the
  // rims of gaps.
  void add(const check::ShotCheck& shot, const visibility::PixelMask& bare, bool rim);
  const MustHide& found() const { return found_; }
  MustHide take() { return std::move(found_); }

 private:
  std::uint32_t eyeAt(const glm::dvec3& at);
  void addGap(const check::ShotCheck& shot, std::size_t gap, std::uint32_t eye, bool rim);
  void addPixels(const check::ShotCheck& shot, const gaps::Gap& gap, std::uint32_t eye);
  void addSpecks(const check::ShotCheck& shot, const visibility::PixelMask& bare, std::uint32_t eye);

  const PlaceGrid& grid_;
  Hide hide_;
  plan::ReadingThresholds thresholds_;
  MustHide found_;
  std::uint32_t shots_ = 0;
};

// Adds the places of `more`, eye by eye; both from one grid and the same shots.
void join(MustHide& to, const MustHide& more);

}  // namespace petalproof::candidates
