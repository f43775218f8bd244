#include "engine/report/internal/advice_json.h"

#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

namespace petalproof::report {
namespace {

using json_text::append;
using json_text::Json;
using json_text::pairOf;

Json countsJson(const check::ReadingCounts& counts) {
  return {{"shows", counts.show}, {"faint", counts.faint}, {"lost", counts.lost}};
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
Json poseJson(const plan::Shot& shot, const camera::WallFrame& wall) {
  const auto mm = [&](Length length) { return toMillimetres(length, wall.units); };
  const double middle = wall.width_mm / 2;
  return {
      {"camera_mm", Json::array({middle + mm(shot.camera_right),
                                 mm(shot.camera_above_floor) - wall.above_floor_mm, mm(shot.camera_out)})},
      {"aim_mm", pairOf({middle + mm(shot.aim_right), mm(shot.aim_above_floor) - wall.above_floor_mm})}};
}

Json changeJson(const std::optional<advice::TriedChange>& tried, const camera::WallFrame& wall) {
  if (!tried) return {};
  const plan::Shot& shot = tried->change.shot;
  Json json = {{"kind", kindName(tried->change.kind)}, {"amount", tried->change.amount}};
  append(json, poseJson(shot, wall));
  append(json, {{"lens", shot.lens.mm}, {"aperture", shot.aperture}});
  append(json, countsJson(tried->counts));
  return json;
}

Json shotJson(const advice::ShotAdvice& advice, const camera::WallFrame& wall) {
  Json json;
  json["name"] = advice.shot;
  append(json, countsJson(advice.now));
  append(json, {{"tried", advice.tried},
                {"change", changeJson(advice.remedy, wall)},
                {"best", changeJson(advice.best, wall)}});
  return json;
}

Json colourJson(const advice::TriedColour& tried) {
  Json json = {{"colour", toHex(tried.board.colour)}, {"name", tried.board.name}};
  append(json, countsJson(tried.counts));
  json["of_showing"] = countsJson(tried.of_showing);
  return json;
}

}  // namespace

Json adviceJson(const advice::Advice& advice, const camera::WallFrame& wall) {
  Json json = countsJson(advice.now);
  Json shots = Json::array();
  for (const advice::ShotAdvice& shot : advice.shots) shots.push_back(shotJson(shot, wall));
  json["shots"] = shots;
  Json boards = Json::array();
  for (const advice::TriedColour& tried : advice.colours) boards.push_back(colourJson(tried));
  json["boards"] = boards;
  return json;
}

}  // namespace petalproof::report
