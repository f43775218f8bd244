#pragma once
// Collects the places of the board plane that fillers must hide, each with the eye that must not see it, from
// a check while it runs. The search for fillers and their proof start from them.

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

// Which bare places the fillers must hide: those of gaps that show; of gaps that show or are faint; every
// bare place that a shot sees, of specks too.
enum class Hide { shows, faint, all };

// A camera's place with the places that it must not see. Shots from the same place share an eye, since the
// same fillers hide the same from them. Each simulated build has eyes of its own.
struct Eye {
  glm::dvec3 at{0};
  const scene::HandBuild* build = nullptr;  // the build that displaces its fillers; null: hung as planned
  PlaceBits places;                         // of the whole grid
  std::vector<glm::dvec2> off_grid;         // places of gaps that lie between the grid's lines
  bool any() const;
};

// A place of the grid with the gap that it belongs to, for the list of the gaps that each filler hides.
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
// The most conspicuous reading that the remainder of a gap may have.
reading::Reads mostLeft(Hide hide);

// The part of a gap's width that may stay bare along its rim: its middle must be hidden.
constexpr double widest_rim_share = 0.35;

// The width of the strip of board that may stay bare along a gap's rim without being noticed, at most
// widest_rim_share of the gap's width. 0 under `all`.
double lostRim_mm(const check::ShotCheck& shot, std::size_t gap, Hide hide,
                  const plan::ReadingThresholds& thresholds);

class MustHideCollector {
 public:
  MustHideCollector(const PlaceGrid& grid, Hide hide, const plan::ReadingThresholds& thresholds)
      : grid_(grid), hide_(hide), thresholds_(thresholds) {}

  // Adds the places of a shot from its check and its bare pixels. `rim`: leaves out a strip along the rims of
  // gaps that wouldn't be noticed.
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

// Adds the places of `added`, eye by eye; both from the same grid and shots.
void join(MustHide& to, const MustHide& added);

}  // namespace petalproof::candidates
