#include "viewer/app/internal/change_units.h"

#include "viewer/app/internal/tidied.h"

#include <fmt/format.h>

namespace petalproof::app {
namespace {

// Converts lengths in place from the old unit to the new one.
class Converter {
 public:
  Converter(Units from, Units to) : ratio_(millimetresPer(from) / millimetresPer(to)) {}

  void operator()(Length& length) const { length = tidied(Length{length.value * ratio_}); }
  void operator()(std::optional<Length>& length) const {
    if (length) (*this)(*length);
  }
  template <class... Lengths>
  void each(Lengths&... lengths) const {
    ((*this)(lengths), ...);
  }

 private:
  double ratio_;
};

void convert(plan::Wall& wall, const Converter& to) {
  to.each(wall.panel.width, wall.panel.height, wall.seam, wall.above_floor, wall.board.thickness,
          wall.room.ceiling, wall.room.depth);
}

void convert(plan::Bloom& bloom, const Converter& to) {
  to.each(bloom.diameter, bloom.width, bloom.depth, bloom.plate);
}

void convert(plan::Placement& placement, const Converter& to) {
  to.each(placement.at.from_left, placement.at.from_top, placement.raised);
}

void convert(plan::Shot& shot, const Converter& to) {
  to.each(shot.camera_right, shot.camera_above_floor, shot.camera_out, shot.aim_right, shot.aim_above_floor,
          shot.focus);
  if (shot.looked_at) to.each(shot.looked_at->width, shot.looked_at->distance);
  for (plan::Person& person : shot.people)
    to.each(person.height, person.right_of_centre, person.out_from_board);
}

const char* nameOf(Units units) {
  switch (units) {
    case Units::inch: return "inches";
    case Units::centimetre: return "centimetres";
    case Units::millimetre: return "millimetres";
  }
  return "";
}

}  // namespace

EditOutcome change(plan::Plan& plan, const SetUnits& edit) {
  const Converter to(plan.units, edit.units);
  convert(plan.wall, to);
  for (plan::Bloom& bloom : plan.blooms) convert(bloom, to);
  for (plan::Layout& layout : plan.layouts)
    for (plan::Placement& placement : layout.blooms) convert(placement, to);
  for (plan::Filler& filler : plan.fillers) convert(filler.placement, to);
  for (plan::Shot& shot : plan.shots) convert(shot, to);
  if (plan.hands) to.each(plan.hands->place, plan.hands->hang, plan.hands->step);
  plan.units = edit.units;
  return made(fmt::format("measure in {}", nameOf(edit.units)));
}

}  // namespace petalproof::app
