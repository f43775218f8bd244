#include "viewer/window/bloom_hand.h"

#include "viewer/app/field_text.h"
#include "viewer/app/filler_notes.h"
#include "viewer/window/wall_drawing.h"

#include <algorithm>
#include <cmath>

namespace petalproof::window {
namespace {

constexpr double turn_step_deg = 5;       // a notch of the wheel: as finely as a bloom is placed by hand
constexpr double fine_turn_step_deg = 1;  // with Shift
// A press becomes a drag after this share of Dear ImGui's own threshold: blooms are small.
constexpr float drag_threshold_share = 0.6F;
// Notches of the wheel within this time of each other make a single step of Undo.
constexpr double wheel_rest_s = 0.7;
// The largest ring around a new filler, at 96 dots an inch: a larger ring would hide the wall.
constexpr float most_glow = 11;

app::BloomRef refOf(const scene::BloomInstance& bloom) {
  return {bloom.panel_column, bloom.panel_row, bloom.index};
}

bool holdsRef(const app::Selection& selection, const app::BloomRef& ref) {
  return std::find(selection.blooms.begin(), selection.blooms.end(), ref) != selection.blooms.end();
}

// A ring around a filler that was just placed, so that not only its colour marks it.
void drawGlow(ImDrawList& list, const Ui& ui, ImVec2 at, float radius) {
  list.AddCircle(at, radius, IM_COL32(90, 60, 10, 160), 0, 2.6F * ui.scale);
  list.AddCircle(at, radius, IM_COL32(255, 226, 130, 255), 0, 1.4F * ui.scale);
}

}  // namespace

app::Actions BloomHand::work(const app::State& state, const Ui& ui, const DrawingScale& scale,
                             const gl::View& view, WallPictures& pictures, bool hovered) {
  app::Actions actions;
  const ImGuiIO& io = ImGui::GetIO();
  const bool pressed = hovered && ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  const bool wheel = hovered && io.MouseWheel != 0 && !state.selection.blooms.empty();
  over_chosen_ = false;
  if (pressed || wheel) {
    const float to_px = static_cast<float>(view.width_px) / std::max(scale.area.width(), 1.0F);
    const ImVec2 at = pressed ? ui.pressed_at : io.MousePos;
    const auto x = static_cast<int>((at.x - scale.area.min.x) * to_px);
    const auto y = static_cast<int>((at.y - scale.area.min.y) * to_px);
    const auto bloom = pictures.bloomAt(view, x, y);
    over_chosen_ = bloom && holdsRef(state.selection, refOf(pictures.scene().blooms[*bloom]));
    if (pressed) pick(state, ui, bloom, pictures.scene(), actions);
    if (wheel && over_chosen_) turn(state, ui, actions);
  }
  // A bloom picked in this frame is part of the selection only from the next frame on.
  if (dragging_ && !pressed) drag(state, ui, scale, actions);
  return actions;
}

void BloomHand::pick(const app::State& state, const Ui& ui, std::optional<std::size_t> bloom,
                     const scene::Scene& scene, app::Actions& actions) {
  const ImGuiIO& io = ImGui::GetIO();
  app::Selection selection = state.selection;
  selection.cells.clear();
  if (!bloom) {
    if (!io.KeyShift && !selection.blooms.empty()) actions.emplace_back(app::Select{});
    return;
  }
  const app::BloomRef ref = refOf(scene.blooms[*bloom]);
  const bool had = holdsRef(selection, ref);
  if (io.KeyShift && had) {
    std::erase(selection.blooms, ref);
  } else if (io.KeyShift) {
    selection.blooms.push_back(ref);
  } else if (!had) {
    selection.blooms = {ref};
  }
  if (selection != state.selection) actions.emplace_back(app::Select{selection});
  dragging_ = holdsRef(selection, ref);
  moved_ = false;
  start_ = ui.pressed_at;
}

void BloomHand::drag(const app::State& state, const Ui& ui, const DrawingScale& scale,
                     app::Actions& actions) {
  const ImGuiIO& io = ImGui::GetIO();
  // A bloom that is let go stays at the place of the release, even if the mouse went on.
  dragging_ = ImGui::IsMouseDown(ImGuiMouseButton_Left);
  const ImVec2 at = dragging_ ? io.MousePos : ui.released_at;
  const ImVec2 by(at.x - start_.x, at.y - start_.y);
  // The first pixels belong to a click.
  if (!moved_ && std::hypot(by.x, by.y) < io.MouseDragThreshold * drag_threshold_share) return;
  if (!moved_) stroke_ = ui.newStroke();
  moved_ = true;
  const double px_per_unit = millimetresPer(state.plan().units) * scale.px_per_mm;
  const double step = app::finestStep(state.plan().units);
  const auto lengthOf = [&](float px) { return Length{std::round(px / px_per_unit / step) * step}; };
  const plan::TapePoint move{lengthOf(by.x), lengthOf(by.y)};
  actions.emplace_back(app::Edit{app::MoveBlooms{state.selection.blooms, move}, stroke_});
}

void BloomHand::turn(const app::State& state, const Ui& ui, app::Actions& actions) {
  const ImGuiIO& io = ImGui::GetIO();
  const double now = ImGui::GetTime();
  if (now - last_turn_time_ > wheel_rest_s) {
    stroke_ = ui.newStroke();
    turned_deg_ = 0;
  }
  last_turn_time_ = now;
  turned_deg_ -= io.MouseWheel * (io.KeyShift ? fine_turn_step_deg : turn_step_deg);
  actions.emplace_back(app::Edit{app::TurnBlooms{state.selection.blooms, turned_deg_}, stroke_});
}

void BloomHand::drawRings(const app::State& state, const Ui& ui, const DrawingScale& scale,
                          const scene::Scene& scene) const {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const app::BloomRef ref = refOf(bloom);
    const bool chosen = holdsRef(state.selection, ref);
    const ImVec2 at = scale.screenOf(bloom.at_mm);
    const auto radius = static_cast<float>(bloom.diameter_mm / 2 * scale.px_per_mm) + 2 * ui.scale;
    if (ref.isFiller() && app::glows(state, ref.index))
      drawGlow(list, ui, at, std::min(radius, most_glow * ui.scale));
    if (!chosen && !app::movesWithChosen(state, ref)) continue;
    list.AddCircle(at, radius + ui.scale, faded(ui.theme.paper, 0.8F), 0, (chosen ? 4.0F : 2.5F) * ui.scale);
    list.AddCircle(at, radius, ui.theme.pencil, 0, (chosen ? 2.0F : 1.0F) * ui.scale);
    if (!chosen) continue;
    // A dot on the ring shows the direction of the bloom's tip.
    const ImVec2 tip(static_cast<float>(bloom.wallFromMesh[1].x),
                     -static_cast<float>(bloom.wallFromMesh[1].y));
    list.AddCircleFilled({at.x + tip.x * radius, at.y + tip.y * radius}, 4 * ui.scale, ui.theme.pencil);
  }
}

}  // namespace petalproof::window
