#include "engine/report/internal/advice_json.h"

#include "engine/report/internal/json_text.h"

#include <fmt/format.h>

#include <string_view>
#include <vector>

namespace petalproof::report {
namespace {

using json_text::number;
using json_text::pair;
using json_text::textOf;

std::string countsJson(const check::ReadingCounts& counts) {
  return fmt::format(R"("shows": {}, "faint": {}, "lost": {})", counts.show, counts.faint, counts.lost);
}

std::string_view kindName(advice::ChangeKind kind) {
  switch (kind) {
    case advice::ChangeKind::people: return "people";
    case advice::ChangeKind::side: return "side";
    case advice::ChangeKind::height: return "height";
    case advice::ChangeKind::distance: return "distance";
    case advice::ChangeKind::lens: return "lens";
    case advice::ChangeKind::stop: return "stop";
  }
  return "";
}

// Where the camera stands and aims, in the wall frame.
std::string poseJson(const plan::Shot& shot, const camera::WallFrame& wall) {
  const auto mm = [&](Length length) { return toMillimetres(length, wall.units); };
  const double middle = wall.width_mm / 2;
  return fmt::format(R"("camera_mm": [{}, {}, {}], "aim_mm": {})", number(middle + mm(shot.camera_right)),
                     number(mm(shot.camera_above_floor) - wall.above_floor_mm), number(mm(shot.camera_out)),
                     pair({middle + mm(shot.aim_right), mm(shot.aim_above_floor) - wall.above_floor_mm}));
}

std::string changeJson(const std::optional<advice::TriedChange>& tried, const camera::WallFrame& wall) {
  if (!tried) return "null";
  const plan::Shot& shot = tried->change.shot;
  return fmt::format(R"({{ "kind": "{}", "amount": {}, {}, "lens": {}, "aperture": {}, {} }})",
                     kindName(tried->change.kind), number(tried->change.amount), poseJson(shot, wall),
                     number(shot.lens.mm), number(shot.aperture), countsJson(tried->counts));
}

std::string shotJson(const advice::ShotAdvice& advice, const camera::WallFrame& wall) {
  return fmt::format(R"({{ "name": {}, {}, "tried": {}, "change": {}, "best": {} }})", textOf(advice.shot),
                     countsJson(advice.now), advice.tried, changeJson(advice.remedy, wall),
                     changeJson(advice.best, wall));
}

std::string colourJson(const advice::TriedColour& tried) {
  return fmt::format(R"({{ "colour": "{}", "name": {}, {}, "of_showing": {{ {} }} }})",
                     toHex(tried.board.colour), textOf(tried.board.name), countsJson(tried.counts),
                     countsJson(tried.of_showing));
}

std::string listJson(const std::vector<std::string>& items) {
  if (items.empty()) return "[]";
  return fmt::format("[\n      {}\n    ]", fmt::join(items, ",\n      "));
}

}  // namespace

std::string adviceJson(const advice::Advice& advice, const camera::WallFrame& wall) {
  std::vector<std::string> shots;
  for (const advice::ShotAdvice& each : advice.shots) shots.push_back(shotJson(each, wall));
  std::vector<std::string> colours;
  for (const advice::TriedColour& each : advice.colours) colours.push_back(colourJson(each));
  return fmt::format("{{\n    {},\n    \"shots\": {},\n    \"boards\": {}\n  }}", countsJson(advice.now),
                     listJson(shots), listJson(colours));
}

}  // namespace petalproof::report
