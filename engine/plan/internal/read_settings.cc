#include "engine/plan/internal/read_settings.h"

#include "engine/plan/plan_defaults.h"

#include <fmt/format.h>

namespace petalproof::plan {
namespace {

constexpr NumberRange share_range{0, 1};
constexpr NumberRange hand_turn_range{0, 180};
// Black differs from white by 100: the limit only stops typing errors.
constexpr NumberRange difference_range{0, 1000, true};

}  // namespace

Hands readHands(TableReader table, Units units) {
  Hands hands = defaultHands(units);
  assign(hands.bloom_size, table.field("bloom_size").number(share_range));
  assign(hands.bloom_depth, table.field("bloom_depth").number(share_range));
  assign(hands.place, table.field("place").length(LengthRange::zeroOrMore));
  assign(hands.turn_deg, table.field("turn").number(hand_turn_range, "degrees"));
  assign(hands.hang, table.field("hang").length(LengthRange::zeroOrMore));
  assign(hands.step, table.field("step").length(LengthRange::zeroOrMore));
  table.finish();
  return hands;
}

ReadingThresholds readThresholds(TableReader table) {
  ReadingThresholds thresholds;
  const Field faint = table.field("faint");
  const Field shows = table.field("shows");
  assign(thresholds.faint, faint.number(difference_range));
  assign(thresholds.shows, shows.number(difference_range));
  if (thresholds.faint > thresholds.shows) {
    const Field& given = shows.given() ? shows : faint;
    const auto usual = [](const Field& field) { return field.given() ? "" : " if left out"; };
    given.wrong(fmt::format("\"shows\" ({}{}) must be at least \"faint\" ({}{})",
                            numberText(thresholds.shows), usual(shows), numberText(thresholds.faint),
                            usual(faint)));
  }
  table.finish();
  return thresholds;
}

}  // namespace petalproof::plan
