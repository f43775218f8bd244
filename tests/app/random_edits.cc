#include "tests/app/random_edits.h"

#include "engine/base/hash.h"
#include "engine/plan/plan_defaults.h"

#include <array>
#include <functional>

namespace petalproof::app {
namespace {

class Dice {
 public:
  Dice(std::uint64_t seed, std::uint64_t step) : seed_(seed), step_(step) {}

  double unit() { return unitFromHash(hashOf({seed_, step_, ++thrown_})); }
  double from(double low, double high) { return low + unit() * (high - low); }
  int below(int count) { return count < 1 ? 0 : static_cast<int>(unit() * count); }
  int below(std::size_t count) { return below(static_cast<int>(count)); }
  bool once(int in) { return below(in) == 0; }

 private:
  std::uint64_t seed_;
  std::uint64_t step_;
  std::uint64_t thrown_ = 0;
};

CellRef anyCell(const plan::Plan& plan, Dice& dice) {
  // Now and then one that isn't there.
  const int beyond = dice.once(12) ? 2 : 0;
  return {dice.below(plan.wall.columns + beyond), dice.below(plan.wall.rows + beyond)};
}

BloomRef anyBloom(const plan::Plan& plan, Dice& dice) {
  if (!plan.fillers.empty() && dice.once(4)) return {-1, -1, dice.below(plan.fillers.size() + 1)};
  const CellRef cell = anyCell(plan, dice);
  if (cell.column >= plan.wall.columns || cell.row >= plan.wall.rows) return {cell.column, cell.row, 0};
  const plan::Layout* const layout = plan::findLayout(plan, plan.wall.grid.at(cell.column, cell.row).layout);
  return {cell.column, cell.row, layout ? dice.below(layout->blooms.size() + (dice.once(9) ? 2 : 0)) : 0};
}

std::vector<BloomRef> anyBlooms(const plan::Plan& plan, Dice& dice) {
  std::vector<BloomRef> blooms;
  for (int k = dice.below(4); k >= 0; --k) blooms.push_back(anyBloom(plan, dice));
  return blooms;
}

std::string anyKind(const plan::Plan& plan, Dice& dice) {
  return dice.once(15) ? "nobody's"
                       : plan.blooms[static_cast<std::size_t>(dice.below(plan.blooms.size()))].name;
}

std::string anyLayout(const plan::Plan& plan, Dice& dice) {
  if (dice.once(15)) return "nowhere";
  return dice.once(6) || plan.layouts.empty()
             ? ""
             : plan.layouts[static_cast<std::size_t>(dice.below(plan.layouts.size()))].name;
}

plan::TapePoint anyShift(Dice& dice) { return {{dice.from(-3, 3)}, {dice.from(-3, 3)}}; }

plan::TapePoint anyPlace(plan::Size within, Dice& dice) {
  return {{dice.from(0, within.width.value)}, {dice.from(0, within.height.value)}};
}

Colour anyColour(Dice& dice) {
  const auto channel = [&] { return static_cast<std::uint8_t>(dice.below(256)); };
  return {channel(), channel(), channel()};
}

plan::Filler anyFiller(const plan::Plan& plan, Dice& dice) {
  plan::Filler filler;
  filler.placement.bloom = anyKind(plan, dice);
  filler.placement.at = anyPlace(plan::wallOutline(plan.wall), dice);
  filler.placement.turn_deg = dice.from(0, 360);
  filler.fixed = dice.once(3);
  return filler;
}

PlanEdit setFillers(const plan::Plan& plan, Dice& dice) {
  SetFillers edit{plan.fillers};
  for (int k = dice.below(5); k >= 0; --k) edit.fillers.push_back(anyFiller(plan, dice));
  return edit;
}

PlanEdit setKind(const plan::Plan& plan, Dice& dice) {
  const int kind = dice.below(plan.blooms.size());
  plan::Bloom bloom = plan.blooms[static_cast<std::size_t>(kind)];
  if (dice.once(3)) bloom.name += "'";
  if (dice.once(2)) bloom.diameter.value *= dice.from(0.8, 1.3);
  if (dice.once(3)) bloom.colours.push_back(anyColour(dice));
  if (dice.once(9)) bloom.diameter.value = -1;
  if (dice.once(9)) bloom.colours.clear();
  return SetKind{kind, bloom};
}

PlanEdit addKind(const plan::Plan& plan, Dice& dice) {
  plan::Bloom bloom = plan.blooms[static_cast<std::size_t>(dice.below(plan.blooms.size()))];
  if (!dice.once(4)) bloom.name += " too";
  return AddKind{bloom};
}

PlanEdit setShot(const plan::Plan& plan, Dice& dice) {
  const auto shots = shotsOf(plan);
  const int number = dice.below(shots.size());
  plan::Shot shot = shots[static_cast<std::size_t>(number)];
  if (dice.once(2)) shot.camera_out.value *= dice.from(-0.1, 2);
  if (dice.once(2)) shot.lens.mm = dice.from(14, 200);
  if (dice.once(3)) shot.aperture = dice.from(-1, 16);
  if (dice.once(3)) shot.people.push_back({{66}, {dice.from(-20, 20)}, {48}});
  if (dice.once(5)) shot.name = shots.front().name;
  return SetShot{number, shot, "lens"};
}

PlanEdit setWall(const plan::Plan& plan, Dice& dice) {
  SetWallDetails edit{plan.wall, "the board"};
  if (dice.once(2)) edit.wall.board.colour = anyColour(dice);
  if (dice.once(2)) edit.wall.seam.value = dice.from(-0.1, 0.5);
  if (dice.once(2)) edit.wall.above_floor.value = dice.from(0, 12);
  return edit;
}

using Maker = std::function<PlanEdit(const plan::Plan&, Dice&)>;

PlanEdit ofBlooms(const plan::Plan& plan, Dice& dice) {
  const std::vector<BloomRef> blooms = anyBlooms(plan, dice);
  switch (dice.below(8)) {
    case 0: return MoveBlooms{blooms, anyShift(dice)};
    case 1: return PlaceBloom{blooms.front(), anyPlace(plan.wall.panel, dice)};
    case 2: return TurnBlooms{blooms, dice.from(-400, 400)};
    case 3: return SetTurn{blooms, dice.from(0, 360)};
    case 4: return RaiseBlooms{blooms, {dice.from(-0.1, 2)}};
    case 5: return ColourBlooms{blooms, dice.once(3) ? std::nullopt : std::optional(anyColour(dice))};
    case 6: return ExchangeBlooms{blooms, anyKind(plan, dice)};
    default: return dice.once(2) ? PlanEdit(CopyBlooms{blooms, anyShift(dice)}) : DeleteBlooms{blooms};
  }
}

PlanEdit ofFillers(const plan::Plan& plan, Dice& dice) {
  switch (dice.below(6)) {
    case 0: return TakeFillersAway{dice.once(2)};
    case 1: return setFillers(plan, dice);
    case 2: return FixFillers{{dice.below(plan.fillers.size() + 1)}, dice.once(2)};
    default: return AddFiller{anyFiller(plan, dice)};
  }
}

PlanEdit ofCells(const plan::Plan& plan, Dice& dice) {
  const CellRef cell = anyCell(plan, dice);
  switch (dice.below(6)) {
    case 0: return OwnLayout{cell};
    case 1: return SetCell{cell, {anyLayout(plan, dice), dice.once(3)}};
    case 2: return SwapCells{cell, anyCell(plan, dice)};
    case 3: return TurnOver{cell};
    case 4: return AddBloom{cell, anyKind(plan, dice), anyPlace(plan.wall.panel, dice)};
    default: {
      const int layout = dice.below(plan.layouts.size());
      if (dice.once(3)) return AddLayout{dice.once(3) ? "" : "more"};
      return dice.once(2) ? PlanEdit(RenameLayout{layout, "another"}) : DeleteLayout{layout};
    }
  }
}

PlanEdit ofPlan(const plan::Plan& plan, Dice& dice) {
  switch (dice.below(14)) {
    case 0: return ResizeWall{dice.below(8), 1 + dice.below(6)};
    case 1: return ResizePanel{{{dice.from(-1, 30)}, {dice.from(8, 30)}}};
    case 2: return setWall(plan, dice);
    case 3: return AddShot{shotsOf(plan).front()};
    case 4: return CopyShot{dice.below(shotsOf(plan).size() + 1)};
    case 5: return DeleteShot{dice.below(shotsOf(plan).size() + 1)};
    case 6: return setKind(plan, dice);
    case 7: return addKind(plan, dice);
    case 8: return DeleteKind{dice.below(plan.blooms.size() + 1)};
    case 9: return SetReading{{dice.from(0, 4), dice.from(2, 8)}};
    case 10: return SetUnits{dice.once(2) ? Units::centimetre : Units::inch};
    case 11: return SetCopies{static_cast<std::uint64_t>(dice.below(1000)), dice.from(-1, 6)};
    case 12: return SetHands{dice.once(3) ? std::nullopt : std::optional(plan::defaultHands(plan.units))};
    default: return setShot(plan, dice);
  }
}

}  // namespace

PlanEdit randomEdit(const plan::Plan& plan, std::uint64_t seed, std::uint64_t step) {
  Dice dice(seed, step);
  switch (dice.below(6)) {
    case 0: return ofPlan(plan, dice);
    case 1: return ofCells(plan, dice);
    case 2: return ofFillers(plan, dice);
    default: return ofBlooms(plan, dice);
  }
}

Action handAction(const State& state, std::uint64_t seed, std::uint64_t step) {
  if (step % 17 == 16) return Undo{};
  if (step % 34 == 15) return Redo{};
  return Edit{randomEdit(state.plan(), seed, step), step % 5 == 0 ? 0 : static_cast<int>(step / 9)};
}

}  // namespace petalproof::app
