#include "engine/report/internal/gap_words.h"

#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::report {
namespace {

// A distance from the edge of a panel or seam, at least 0: gaps a little past a seam's end belong to the
// seam, too.
std::string fromEdge(double mm, Units units) { return tapeText(std::max(mm, 0.0), units); }

}  // namespace

std::string ownerInWords(const gaps::Owner& owner) {
  switch (owner.kind) {
    case gaps::GapKind::crossing: return "crossing " + gaps::nameOf(owner);
    case gaps::GapKind::seam: return "seam " + gaps::nameOf(owner);
    case gaps::GapKind::board: return "panel " + gaps::nameOf(owner);
  }
  return gaps::nameOf(owner);
}

std::string whereInWords(const gaps::Gap& gap, const scene::PanelGrid& panels, Units units) {
  const gaps::Owner& owner = gap.owner;
  const std::string across = fromEdge(gap.centre_mm.x - panels.left_mm(owner.column), units);
  const std::string down = fromEdge(panels.top_mm(owner.row) - gap.centre_mm.y, units);
  switch (owner.kind) {
    case gaps::GapKind::crossing: break;
    case gaps::GapKind::seam:
      if (owner.upright) {
        return fmt::format("{}, {} below the top of row {}", ownerInWords(owner), down, owner.row + 1);
      }
      return fmt::format("{}, {} from the left edge of column {}", ownerInWords(owner), across,
                         plan::columnLetters(owner.column));
    case gaps::GapKind::board:
      return fmt::format("{}, {} from its left, {} from its top", ownerInWords(owner), across, down);
  }
  return ownerInWords(owner);
}

std::string sizeInWords(const gaps::Gap& gap, Units units) {
  return fmt::format("{} long, {} wide", tapeText(gap.length_mm, units), tapeText(gap.width_mm, units));
}

}  // namespace petalproof::report
