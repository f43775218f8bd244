#include "engine/advice/internal/shot_changes.h"

#include "engine/camera/projection.h"

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace petalproof::advice {
namespace {

// How far people, and a photographer, may be asked to move; common practice, no source.
constexpr int most_people_steps = 5;  // of a foot (30 cm)
constexpr int most_side_steps = 4;
constexpr double widest_turn = radians(25);  // around the people
constexpr int most_height_steps = 3;         // of half a foot (15 cm)
constexpr int most_distance_steps = 4;       // of half a foot (15 cm)
constexpr double nearest_to_people_mm = 900;
constexpr double widest_lens_change = 2;  // times as long, or half

// A length to pace out: whole in the plan's unit, the nearest to the same number of mm in every plan.
struct Pace {
  Units units;

  double foot() const { return units == Units::inch ? 304.8 : 300; }
  Length exact(double mm) const { return {mm / millimetresPer(units)}; }
  // To whole inches or centimetres.
  double rounded(double mm) const {
    const double step = units == Units::inch ? 25.4 : 10;
    return std::round(mm / step) * step;
  }
  // To tenths of an inch or whole millimetres.
  Length finely(double mm) const {
    const double step = units == Units::inch ? 2.54 : 1;
    const double steps = std::round(mm / step);
    return units == Units::millimetre ? Length{steps} : Length{steps / 10};
  }
};

// A camera's place, and the anchor that must keep its place in the frame.
struct Stand {
  camera::Camera camera;
  glm::dvec3 anchor;  // between everybody's eyes; without people: the board at the picture's centre

  // From the anchor to the camera, along the floor.
  glm::dvec2 away() const { return {camera.position.mm.x - anchor.x, camera.position.mm.z - anchor.z}; }
};

glm::dvec3 anchorOf(const camera::Camera& camera, const plan::Shot& shot, const camera::WallFrame& wall) {
  const std::vector<WallPoint> eyes = camera::eyesOf(shot, wall);
  if (eyes.empty()) {
    const auto middle = camera::boardPointOf(camera, {{camera.width_px / 2.0, camera.height_px / 2.0}});
    return middle ? glm::dvec3(middle->mm, 0) : camera.position.mm;
  }
  glm::dvec3 sum(0);
  for (const WallPoint& each : eyes) sum += each.mm;
  return sum / static_cast<double>(eyes.size());
}

// The direction of a level camera at `position`, its lens `longer` times as long, that sees the anchor at the
// pixel where `stand` sees it: its elevation, then its bearing, in closed form. Nothing where none does.
std::optional<glm::dvec3> directionKeeping(const Stand& stand, const glm::dvec3& position, double longer) {
  const glm::dvec3 seen = stand.camera.cameraFromWall * (stand.anchor - stand.camera.position.mm);
  const glm::dvec3 c = glm::normalize(glm::dvec3(seen.x, seen.y, seen.z * longer));
  const glm::dvec3 u = glm::normalize(stand.anchor - position);
  const double rho = std::hypot(c.y, c.z);
  if (std::abs(u.y) > rho) return std::nullopt;
  const double up = std::asin(u.y / rho) - std::atan2(c.y, -c.z);
  const double ahead = -(c.y * std::sin(up) + c.z * std::cos(up));
  const double turn = std::atan2(u.x, -u.z) - std::atan2(c.x, ahead);
  return glm::dvec3(std::sin(turn) * std::cos(up), std::sin(up), -std::cos(turn) * std::cos(up));
}

// The distance of the nearest eyes, which the focus follows, else of the board at the picture's centre.
double focusReference(const plan::Shot& shot, const camera::WallFrame& wall) {
  plan::Shot automatic = shot;
  automatic.focus.reset();
  const auto camera = camera::makeCamera(automatic, wall);
  return camera ? camera.value->focus_mm : 0;
}

// A focus that the plan gives stays as far from the automatic focus as it was.
void followFocus(plan::Shot& changed, const plan::Shot& before, const camera::WallFrame& wall) {
  if (!before.focus) return;
  const double shift = focusReference(changed, wall) - focusReference(before, wall);
  changed.focus = Pace{wall.units}.finely(toMillimetres(*before.focus, wall.units) + shift);
}

class Changer {
 public:
  Changer(const plan::Shot& shot, const Stand& stand, const ShotLimits& limits)
      : shot_(shot), stand_(stand), limits_(limits), pace_{limits.wall.units} {}

  std::vector<ShotChange> all() && {
    if (!shot_.people.empty()) addPeople();
    addSide();
    addHeight();
    addDistance();
    const bool phone = shot_.sensor.name == "phone";  // its lens and stop can't be changed
    if (!phone) addLens();
    if (!phone && !shot_.people.empty()) addStop();
    return std::move(changes_);
  }

 private:
  void add(ChangeKind kind, double amount, plan::Shot changed, bool zoom_end = false) {
    followFocus(changed, shot_, limits_.wall);
    if (keepsFraming(shot_, changed, limits_))
      changes_.push_back({kind, amount, std::move(changed), zoom_end});
  }

  // The shot from the place nearest to `place` that can be paced out, pointed so that the anchor keeps its
  // place in the frame; nothing where no direction does.
  std::optional<plan::Shot> from(const glm::dvec3& place, double longer = 1) const {
    plan::Shot changed = shot_;
    changed.camera_right = pace_.exact(pace_.rounded(place.x - limits_.wall.width_mm / 2));
    changed.camera_above_floor = pace_.exact(pace_.rounded(place.y + limits_.wall.above_floor_mm));
    changed.camera_out = pace_.exact(pace_.rounded(place.z));
    const glm::dvec3 stands(
        limits_.wall.width_mm / 2 + toMillimetres(changed.camera_right, pace_.units),
        toMillimetres(changed.camera_above_floor, pace_.units) - limits_.wall.above_floor_mm,
        toMillimetres(changed.camera_out, pace_.units));
    const auto forward = directionKeeping(stand_, stands, longer);
    if (!forward || stands.z <= 0 || forward->z >= 0) return std::nullopt;
    const glm::dvec3 aim = stands + *forward * (stands.z / -forward->z);
    changed.aim_right = pace_.finely(aim.x - limits_.wall.width_mm / 2);
    changed.aim_above_floor = pace_.finely(aim.y + limits_.wall.above_floor_mm);
    return changed;
  }

  // The shot from another horizontal offset from the anchor, at the same height.
  std::optional<plan::Shot> fromOffset(const glm::dvec2& away, double longer = 1) const {
    return from({stand_.anchor.x + away.x, stand_.camera.position.mm.y, stand_.anchor.z + away.y}, longer);
  }

  // All move together, so that nothing but the wall changes in the frame; the aim slides along the board.
  void addPeople() {
    const glm::dvec3 forward = glm::transpose(stand_.camera.cameraFromWall) * glm::dvec3(0, 0, -1);
    for (int k = 1; k <= most_people_steps; ++k) {
      const double step = k * pace_.foot();
      plan::Shot changed = shot_;
      const auto shift = [&](Length& length, double mm) { length.value += pace_.exact(mm).value; };
      shift(changed.camera_out, step);
      shift(changed.aim_right, step * forward.x / -forward.z);
      shift(changed.aim_above_floor, step * forward.y / -forward.z);
      for (plan::Person& person : changed.people) shift(person.out_from_board, step);
      add(ChangeKind::people, step, std::move(changed));
    }
  }

  void addSide() {
    const glm::dvec2 away = stand_.away();
    const double radius = glm::length(away);
    for (int k = 1; k <= most_side_steps; ++k) {
      for (const double side : {-1.0, 1.0}) {
        const double step = side * k * pace_.foot();
        if (std::abs(step) > radius * widest_turn) return;
        const double turn = step / radius;
        const glm::dvec2 turned(away.x * std::cos(turn) + away.y * std::sin(turn),
                                away.y * std::cos(turn) - away.x * std::sin(turn));
        if (auto changed = fromOffset(turned)) add(ChangeKind::side, step, std::move(*changed));
      }
    }
  }

  void addHeight() {
    for (int k = 1; k <= most_height_steps; ++k) {
      for (const double side : {1.0, -1.0}) {
        const double step = side * k * pace_.foot() / 2;
        if (auto changed = from(stand_.camera.position.mm + glm::dvec3(0, step, 0)))
          add(ChangeKind::height, step, std::move(*changed));
      }
    }
  }

  void addDistance() {
    const glm::dvec2 away = stand_.away();
    const double radius = glm::length(away);
    for (int k = 1; k <= most_distance_steps; ++k) {
      for (const double side : {1.0, -1.0}) {
        const double step = side * k * pace_.foot() / 2;
        if (std::abs(step) > radius * largest_size_change) return;
        if (auto changed = fromOffset(away * (1 + step / radius)))
          add(ChangeKind::distance, step, std::move(*changed));
      }
    }
  }

  // The ends of the shot's own zoom; else the usual lenses, the likest first, each from where people are as
  // large as before.
  void addLens() {
    if (shot_.lens.to_mm) {
      for (const plan::Shot& end : {withLens(shot_, *shot_.lens.to_mm), withLens(shot_, shot_.lens.mm)})
        add(ChangeKind::lens, end.lens.mm, end, true);
      return;
    }
    std::vector<double> lenses = {24, 28, 35, 50, 70, 85, 105, 135, 200};
    const auto change = [&](double mm) { return std::abs(std::log(mm / shot_.lens.mm)); };
    std::stable_sort(lenses.begin(), lenses.end(), [&](double a, double b) { return change(a) < change(b); });
    for (const double mm : lenses) {
      if (change(mm) < 1e-6 || change(mm) > std::log(widest_lens_change) + 1e-6) continue;
      const double longer = mm / shot_.lens.mm;
      if (glm::length(stand_.away()) * longer < nearest_to_people_mm) continue;
      if (auto changed = fromOffset(stand_.away() * longer, longer))
        add(ChangeKind::lens, mm, withLens(*changed, mm));
    }
  }

  static plan::Shot withLens(plan::Shot shot, double mm) {
    shot.lens.mm = mm;
    shot.lens.to_mm.reset();
    return shot;
  }

  void addStop() {
    const double widest = shot_.lens.to_mm ? 2.8 : 1.8;
    for (const double stop : {16.0, 13.0, 11.0, 9.5, 8.0, 6.7, 5.6, 4.8, 4.0, 3.3, 2.8, 2.4, 2.0, 1.8}) {
      if (stop >= shot_.aperture * 0.99 || stop < widest) continue;
      plan::Shot changed = shot_;
      changed.aperture = stop;
      add(ChangeKind::stop, stop, std::move(changed));
    }
  }

  const plan::Shot& shot_;
  const Stand& stand_;
  const ShotLimits& limits_;
  Pace pace_;
  std::vector<ShotChange> changes_;
};

}  // namespace

std::vector<ShotChange> shotChanges(const plan::Shot& shot, const ShotLimits& limits) {
  const auto camera = camera::makeCamera(shot, limits.wall);
  if (!camera) return {};
  const Stand stand{*camera.value, anchorOf(*camera.value, shot, limits.wall)};
  return Changer(shot, stand, limits).all();
}

}  // namespace petalproof::advice
