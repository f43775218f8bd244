#include "viewer/window/floor_plan.h"

#include "viewer/window/pencil.h"

#include "engine/base/length_text.h"
#include "engine/camera/projection.h"

#include <GLFW/glfw3.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::window {
namespace {

constexpr float grip_px = 13;            // how near the mouse takes hold of a thing, at 96 dots an inch
constexpr double nearest_mm = 50;        // things are kept this far in front of the board
constexpr double shoulder_share = 0.13;  // of the height, half of a person's width from above

double toMm(const plan::Plan& plan, Length length) { return toMillimetres(length, plan); }

// Dragged places are rounded to what a person would write down: quarters of an inch, half centimetres, 5 mm.
double roundTo(Units units) { return units == Units::inch ? 0.25 : units == Units::centimetre ? 0.5 : 5.0; }

// The step of an arrow key.
double stepOf(Units units) { return units == Units::inch ? 2 : units == Units::centimetre ? 5 : 50; }

Length rounded(double mm, Units units) {
  const double step = roundTo(units);
  return {std::round(mm / millimetresPer(units) / step) * step};
}

// The direction of an arrow key on the screen.
std::optional<ImVec2> arrowStepOf(int key) {
  switch (key) {
    case GLFW_KEY_LEFT: return ImVec2(-1, 0);
    case GLFW_KEY_RIGHT: return ImVec2(1, 0);
    case GLFW_KEY_UP: return ImVec2(0, -1);
    case GLFW_KEY_DOWN: return ImVec2(0, 1);
    default: return std::nullopt;
  }
}

// Of each row of people at the same distance from the board, the person farthest from the centre line.
std::vector<plan::Person> outermostOfRows(const std::vector<plan::Person>& people) {
  std::vector<plan::Person> outermost;
  for (const plan::Person& person : people) {
    const auto row = std::find_if(outermost.begin(), outermost.end(), [&](const plan::Person& listed) {
      return listed.out_from_board == person.out_from_board;
    });
    if (row == outermost.end())
      outermost.push_back(person);
    else if (std::abs(person.right_of_centre.value) > std::abs(row->right_of_centre.value))
      *row = person;
  }
  return outermost;
}

double halfWidthMm(const plan::Plan& plan) { return toMm(plan, plan::wallOutline(plan.wall).width) / 2; }

// A camera seen from above that looks along `towards` (unit).
void drawCamera(ImDrawList& list, const Ui& ui, ImVec2 at, ImVec2 towards, ImU32 colour) {
  const float s = 7 * ui.scale;
  const ImVec2 side(-towards.y, towards.x);
  const auto corner = [&](float along, float across) {
    return ImVec2(at.x + towards.x * along + side.x * across, at.y + towards.y * along + side.y * across);
  };
  const std::array<ImVec2, 4> body{corner(-s, -s), corner(0.2F * s, -s), corner(0.2F * s, s), corner(-s, s)};
  list.AddConvexPolyFilled(body.data(), 4, colour);
  const std::array<ImVec2, 4> lens{corner(0.2F * s, -0.45F * s), corner(s, -0.6F * s), corner(s, 0.6F * s),
                                   corner(0.2F * s, 0.45F * s)};
  list.AddConvexPolyFilled(lens.data(), 4, colour);
}

}  // namespace

const char* FloorPlan::nameOf(Thing thing) {
  switch (thing) {
    case Thing::camera: return "camera";
    case Thing::aim: return "aim";
    case Thing::person: return "person";
  }
  return "";
}

ImVec2 FloorPlan::Scale::screenOf(double right_mm, double out_mm) const {
  const float right = static_cast<float>(right_mm) * px_per_mm;
  const float out = static_cast<float>(out_mm) * px_per_mm;
  return turned ? ImVec2(zero.x + out, zero.y - right) : ImVec2(zero.x + right, zero.y + out);
}

glm::dvec2 FloorPlan::Scale::floorOf(ImVec2 screen) const {
  const double across = (screen.x - zero.x) / px_per_mm;
  const double down = (screen.y - zero.y) / px_per_mm;
  return turned ? glm::dvec2(-down, across) : glm::dvec2(across, down);
}

// The scale at which everything on the floor fits, with room to drag it. The margins in mm are set by eye.
FloorPlan::Scale FloorPlan::scaleFor(const plan::Plan& plan, const plan::Shot& shot, const Area& area,
                                     const Ui& ui) const {
  double out = std::max(2000.0, toMm(plan, shot.camera_out) * 1.08 + 250);
  double right = std::max(halfWidthMm(plan) * 1.05, std::abs(toMm(plan, shot.camera_right)) + 350);
  for (const plan::Person& person : shot.people) {
    out = std::max(out, toMm(plan, person.out_from_board) + 600);
    right = std::max(right, std::abs(toMm(plan, person.right_of_centre)) + 500);
  }
  // The end of the free floor is shown where it is near.
  if (const auto& depth = plan.wall.room.depth; depth && toMm(plan, *depth) < 1.3 * out)
    out = std::max(out, toMm(plan, *depth) + 250);
  const float wall_room = 30 * ui.scale;  // for the wall's width, written beside it
  const float edge = 12 * ui.scale;
  const auto least = [](double a, double b) { return static_cast<float>(std::min(a, b)); };
  const float upright =
      least((area.width() - 2 * edge) / (2 * right), (area.height() - wall_room - edge) / out);
  const float turned =
      least((area.height() - 2 * edge) / (2 * right), (area.width() - wall_room - 2 * edge) / out);
  Scale scale;
  scale.shown_out_mm = out;
  scale.sheet = area.inset(5 * ui.scale);
  scale.turned = turned > 1.1F * upright;
  scale.px_per_mm = std::max(scale.turned ? turned : upright, 1e-4F);
  scale.zero = scale.turned ? ImVec2(area.min.x + wall_room, area.middle().y)
                            : ImVec2(area.middle().x, area.min.y + wall_room);
  return scale;
}

app::Actions FloorPlan::draw(const app::State& state, const Ui& ui, const Area& area) {
  app::Actions actions;
  if (!state.hasPlan()) return actions;
  const std::vector<plan::Shot> shots = app::shotsOf(state.plan());
  if (ui.wasPressed(GLFW_KEY_F5)) ImGui::SetNextWindowFocus();
  beginArea("floor plan", area);
  has_keys_ = ImGui::IsWindowFocused();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  drawSheet(list, ui, area);
  const std::string words = has_keys_
                                ? fmt::format("arrows move the {}; Tab: the next", nameOf(chosen_.thing))
                                : "the floor, from above";
  drawText(list, ui.fonts.small, ui.theme.faint, {area.min.x + 9 * ui.scale, area.max.y - 8 * ui.scale},
           words, 0, 1);
  if (state.shot >= 0 && state.shot < static_cast<int>(shots.size())) {
    const plan::Shot& shot = shots[static_cast<std::size_t>(state.shot)];
    const Scale scale = kept_.value_or(scaleFor(state.plan(), shot, area, ui));
    list.PushClipRect(area.min, area.max, true);
    drawWall(state.plan(), ui, scale);
    drawFloorEnd(state.plan(), ui, scale);
    drawOthers(state, ui, scale, actions);
    drawShot(state.plan(), shot, ui, scale);
    list.PopClipRect();
    ImGui::SetCursorScreenPos(area.min);
    ImGui::InvisibleButton("floor", {area.width(), area.height()});
    hold(state, shot, ui, scale, actions);
    if (has_keys_ && !holds_) followKeys(state, shot, ui, scale, actions);
    if (has_keys_) drawChosen(ui);
    kept_ = holds_ ? std::optional(scale) : std::nullopt;
  }
  ImGui::End();
  return actions;
}

// A ring around the thing that the keys move.
void FloorPlan::drawChosen(const Ui& ui) const {
  ImGui::GetWindowDrawList()->AddCircle(chosen_.at, grip_px * ui.scale, ui.theme.pencil, 0, 1.4F * ui.scale);
}

void FloorPlan::drawWall(const plan::Plan& plan, const Ui& ui, const Scale& scale) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const double half = halfWidthMm(plan);
  const double thick = 5 * ui.scale / scale.px_per_mm;
  const auto line = [&](double out, float width) {
    pencilLine(list, scale.screenOf(-half, out), scale.screenOf(half, out), ui.theme.ink, width * ui.scale);
  };
  line(0, 1.5F);
  line(-thick, 1.1F);
  const double step = 1.8 * thick;
  for (double right = -half; right < half; right += step)
    list.AddLine(scale.screenOf(right, 0), scale.screenOf(std::min(right + thick, half), -thick),
                 faded(ui.theme.ink, 0.45F), ui.scale);
  const std::string width = tapeText(2 * half, plan.units);
  const ImVec2 behind = scale.screenOf(0, -thick);
  if (scale.turned) {
    const ImVec2 end = scale.screenOf(half, 0);
    drawTextInside(list, ui.fonts.small, ui.theme.ink, {end.x + 6 * ui.scale, end.y + 2 * ui.scale}, width, 0,
                   0, scale.sheet);
  } else {
    drawTextInside(list, ui.fonts.small, ui.theme.ink, {behind.x, behind.y - 2 * ui.scale}, width, 0.5F, 1,
                   scale.sheet);
  }
}

// Where the free floor ends.
void FloorPlan::drawFloorEnd(const plan::Plan& plan, const Ui& ui, const Scale& scale) const {
  if (!plan.wall.room.depth || toMm(plan, *plan.wall.room.depth) > scale.shown_out_mm) return;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const double half = halfWidthMm(plan);
  const double out = toMm(plan, *plan.wall.room.depth);
  const ImVec2 from = scale.screenOf(-half, out);
  const ImVec2 to = scale.screenOf(half, out);
  drawDashed(list, from, to, faded(ui.theme.ink, 0.5F), ui.scale, 3 * ui.scale, 3 * ui.scale);
  const std::string words = "free floor " + walkText(out, plan.units);
  const ImVec2 end(to.x - 4 * ui.scale, to.y - 2 * ui.scale);
  drawTextInside(list, ui.fonts.small, ui.theme.faint, end, words, 1, scale.turned ? 0.0F : 1.0F,
                 scale.sheet);
}

void FloorPlan::drawOthers(const app::State& state, const Ui& ui, const Scale& scale,
                           app::Actions& actions) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const std::vector<plan::Shot> shots = app::shotsOf(state.plan());
  for (int k = 0; k < static_cast<int>(shots.size()); ++k) {
    if (k == state.shot) continue;
    const plan::Shot& shot = shots[static_cast<std::size_t>(k)];
    const ImVec2 at =
        scale.screenOf(toMm(state.plan(), shot.camera_right), toMm(state.plan(), shot.camera_out));
    pencilEllipse(list, at, {4 * ui.scale, 4 * ui.scale}, ui.theme.faint, ui.scale);
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    if (holds_ || std::hypot(mouse.x - at.x, mouse.y - at.y) > 8 * ui.scale) continue;
    drawLabel(list, ui, ui.fonts.small, {at.x, at.y - 8 * ui.scale}, shot.name, 0.5F, 1);
    if (ImGui::IsMouseClicked(ImGuiMouseButton_Left)) actions.emplace_back(app::ChooseShot{k});
  }
}

void FloorPlan::drawShot(const plan::Plan& plan, const plan::Shot& shot, const Ui& ui,
                         const Scale& scale) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const double right = toMm(plan, shot.camera_right);
  const double out = toMm(plan, shot.camera_out);
  const double aim = toMm(plan, shot.aim_right);
  const ImVec2 at = scale.screenOf(right, out);
  const ImVec2 to = scale.screenOf(aim, 0);
  const float length = std::max(std::hypot(to.x - at.x, to.y - at.y), 1.0F);
  const ImVec2 towards((to.x - at.x) / length, (to.y - at.y) / length);
  const camera::WallFrame wall = camera::wallFrameOf(plan);
  if (const auto camera = camera::makeCamera(shot, wall)) {
    // Lines to the picture's left and right edge on the wall.
    for (const double u : {0.0, static_cast<double>(camera.value->width_px)}) {
      const auto place = camera::boardPointOf(*camera.value, {{u, camera.value->height_px / 2.0}});
      if (place)
        pencilLine(list, at, scale.screenOf(place->mm.x - wall.width_mm / 2, 0), ui.theme.pencil, ui.scale);
    }
  }
  drawDashed(list, at, to, faded(ui.theme.pencil, 0.8F), ui.scale, 5 * ui.scale, 4 * ui.scale);
  textAlong(list, ui, at, to, walkText(out, plan.units));
  drawDistances(plan, shot, ui, scale);
  for (const plan::Person& person : shot.people) {
    const double half = shoulder_share * toMm(plan, person.height);
    const ImVec2 stands =
        scale.screenOf(toMm(plan, person.right_of_centre), toMm(plan, person.out_from_board));
    const auto r = std::max(static_cast<float>(half) * scale.px_per_mm, 6 * ui.scale);
    const ImVec2 shoulders = scale.turned ? ImVec2(0.55F * r, r) : ImVec2(r, 0.55F * r);
    list.AddCircleFilled(stands, 0.5F * r, faded(ui.theme.paper, 0.9F));
    pencilEllipse(list, stands, shoulders, ui.theme.ink, 1.2F * ui.scale);
    pencilEllipse(list, stands, {0.4F * r, 0.42F * r}, ui.theme.ink, 1.2F * ui.scale);
  }
  list.AddCircle(to, 5 * ui.scale, ui.theme.pencil, 0, 1.6F * ui.scale);
  drawCamera(list, ui, at, towards, ui.theme.pencil);
}

// The distance of each row of people from the board, beside the outermost person.
void FloorPlan::drawDistances(const plan::Plan& plan, const plan::Shot& shot, const Ui& ui,
                              const Scale& scale) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  for (const plan::Person& person : outermostOfRows(shot.people)) {
    const double out = toMm(plan, person.out_from_board);
    const double right = toMm(plan, person.right_of_centre);
    const double beside =
        std::max(2.2 * shoulder_share * toMm(plan, person.height), 13.0 * ui.scale / scale.px_per_mm);
    const double at = right + (right < 0 ? -beside : beside);
    const ImVec2 from = scale.screenOf(at, 0);
    const ImVec2 to = scale.screenOf(at, out);
    pencilLine(list, from, to, faded(ui.theme.ink, 0.6F), 0.8F * ui.scale);
    const float tick = 3 * ui.scale;
    const ImVec2 across = scale.turned ? ImVec2(0, tick) : ImVec2(tick, 0);
    list.AddLine({to.x - across.x, to.y - across.y}, {to.x + across.x, to.y + across.y},
                 faded(ui.theme.ink, 0.6F), ui.scale);
    const ImVec2 middle((from.x + to.x) / 2, (from.y + to.y) / 2);
    const std::string words = walkText(out, plan.units);
    const float away = 5 * ui.scale;
    const bool after = right >= 0;  // away from the camera's line
    if (scale.turned)
      drawTextInside(list, ui.fonts.small, ui.theme.ink, {middle.x, middle.y + (after ? -away : away)}, words,
                     0.5F, after ? 1.0F : 0.0F, scale.sheet);
    else
      drawTextInside(list, ui.fonts.small, ui.theme.ink, {middle.x + (after ? away : -away), middle.y}, words,
                     after ? 0.0F : 1.0F, 0.5F, scale.sheet);
  }
}

std::vector<FloorPlan::Handle> FloorPlan::handlesOf(const plan::Plan& plan, const plan::Shot& shot,
                                                    const Scale& scale) const {
  std::vector<Handle> handles;
  handles.push_back(
      {Thing::camera, 0, scale.screenOf(toMm(plan, shot.camera_right), toMm(plan, shot.camera_out))});
  handles.push_back({Thing::aim, 0, scale.screenOf(toMm(plan, shot.aim_right), 0)});
  for (std::size_t k = 0; k < shot.people.size(); ++k)
    handles.push_back({Thing::person, static_cast<int>(k),
                       scale.screenOf(toMm(plan, shot.people[k].right_of_centre),
                                      toMm(plan, shot.people[k].out_from_board))});
  return handles;
}

// The shot with the chosen thing moved to a place; the aim stays on the board.
plan::Shot FloorPlan::withChosenAt(const plan::Shot& shot, glm::dvec2 place, Units units) const {
  const Length right = rounded(place.x, units);
  const Length out = rounded(std::max(place.y, nearest_mm), units);
  plan::Shot to = shot;
  if (chosen_.thing == Thing::camera) {
    to.camera_right = right;
    to.camera_out = out;
  } else if (chosen_.thing == Thing::aim) {
    to.aim_right = right;
  } else if (static_cast<std::size_t>(chosen_.person) < to.people.size()) {
    plan::Person& person = to.people[static_cast<std::size_t>(chosen_.person)];
    person.right_of_centre = right;
    person.out_from_board = out;
  }
  return to;
}

void FloorPlan::hold(const app::State& state, const plan::Shot& shot, const Ui& ui, const Scale& scale,
                     app::Actions& actions) {
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  if (!ImGui::IsMouseDown(ImGuiMouseButton_Left)) holds_ = false;
  if (!holds_ && ImGui::IsItemHovered()) {
    for (const Handle& handle : handlesOf(state.plan(), shot, scale)) {
      if (std::hypot(mouse.x - handle.at.x, mouse.y - handle.at.y) > grip_px * ui.scale) continue;
      ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
      if (!ImGui::IsMouseClicked(ImGuiMouseButton_Left)) break;
      chosen_ = handle;
      holds_ = true;
      stroke_ = ui.newStroke();
      break;
    }
  }
  const ImVec2 by = ImGui::GetIO().MouseDelta;
  if (!holds_ || (by.x == 0 && by.y == 0)) return;
  const plan::Shot to = withChosenAt(shot, scale.floorOf(mouse), state.plan().units);
  actions.emplace_back(app::Edit{app::SetShot{state.shot, to, nameOf(chosen_.thing)}, stroke_});
}

void FloorPlan::chooseNext(const std::vector<Handle>& handles, int by) {
  const auto isChosen = [&](const Handle& handle) {
    return handle.thing == chosen_.thing && handle.person == chosen_.person;
  };
  const auto found = std::find_if(handles.begin(), handles.end(), isChosen);
  const std::ptrdiff_t at = found == handles.end() ? 0 : found - handles.begin() + by;
  chosen_ = handles[static_cast<std::size_t>(at) % handles.size()];
}

// Tab chooses the next thing on the floor; arrow keys move it in their direction on the sketch.
void FloorPlan::followKeys(const app::State& state, const plan::Shot& shot, const Ui& ui, const Scale& scale,
                           app::Actions& actions) {
  const Units units = state.plan().units;
  plan::Shot now = shot;
  chooseNext(handlesOf(state.plan(), now, scale), 0);
  for (const KeyPress& press : ui.keys) {
    if (press.key == GLFW_KEY_TAB) chooseNext(handlesOf(state.plan(), now, scale), 1);
    const auto direction = arrowStepOf(press.key);
    if (!direction) continue;
    const double step = (press.mods & GLFW_MOD_SHIFT) != 0 ? roundTo(units) : stepOf(units);
    const auto px = static_cast<float>(step * millimetresPer(units) * scale.px_per_mm);
    now = withChosenAt(
        now, scale.floorOf({chosen_.at.x + px * direction->x, chosen_.at.y + px * direction->y}), units);
    actions.emplace_back(app::Edit{app::SetShot{state.shot, now, nameOf(chosen_.thing)}, 0});
    chooseNext(handlesOf(state.plan(), now, scale), 0);
  }
}

}  // namespace petalproof::window
