#include "engine/plan/internal/read_settings.h"

#include "engine/plan/plan_defaults.h"

#include <fmt/format.h>

#include <string_view>

namespace petalproof::plan {
namespace {

constexpr NumberRange share_range{0, 1};
constexpr NumberRange hand_turn_range{0, 180};
// Black differs from white by 100: the limit only stops typing errors.
constexpr NumberRange difference_range{0, 1000, true};
constexpr std::string_view odd_words = "two shares of the wall's pieces of paper, such as [0.75, 0.9]";

void readOdd(const Field& odd, ReadingThresholds& thresholds) {
  if (!odd.given()) return;
  const auto ends = odd.listOf(2, odd_words);
  if (!ends) return;
  const auto faint = ends->front().number(share_range);
  const auto shows = ends->back().number(share_range);
  if (!faint || !shows) return;
  if (*faint > *shows) {
    odd.wrong(fmt::format("\"odd\" has its larger share first; write [{}, {}]", numberText(*shows),
                          numberText(*faint)));
    return;
  }
  thresholds.odd_faint = *faint;
  thresholds.odd_shows = *shows;
}

// Plans written before holes were held against pieces of paper.
void warnOfShows(const Field& shows, Findings& findings) {
  if (!shows.given() || !shows.number(difference_range)) return;
  findings.warning(shows.place(),
                   "\"shows\" is no longer used: whether a hole shows depends on how odd it is; "
                   "\"odd\" says from when, such as [0.75, 0.9]");
}

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
  assign(thresholds.faint, table.field("faint").number(difference_range));
  readOdd(table.field("odd"), thresholds);
  warnOfShows(table.field("shows"), table.findings());
  table.finish();
  return thresholds;
}

}  // namespace petalproof::plan
