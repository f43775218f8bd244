#include "viewer/window/pencil.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace petalproof::window {
namespace {

constexpr float full_turn = 6.2831853F;
constexpr float piece_px = 9;         // of a line between two wobbles
constexpr float second_line = 40;     // where along the wobble the second stroke begins, so that it differs
constexpr float second_ellipse = 30;  // likewise
constexpr float firm = 0.85F;         // opacity of the first stroke
constexpr float again = 0.4F;         // opacity of the second stroke

// A small number from -1 to 1 for a place along a line, the same in every frame. Two waves whose lengths
// don't fit into each other; set by eye.
float wobble(float at) { return 0.6F * std::sin(at * 0.19F) + 0.4F * std::sin(at * 0.071F + 1.3F); }

void stroke(ImDrawList& list, const std::vector<ImVec2>& points, ImU32 colour, float width) {
  list.AddPolyline(points.data(), static_cast<int>(points.size()), colour, 0, width);
}

}  // namespace

void pencilLine(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (length < 1) return;
  const ImVec2 direction((to.x - from.x) / length, (to.y - from.y) / length);
  for (const float start : {0.0F, second_line}) {
    std::vector<ImVec2> points;
    for (float at = 0; at < length + piece_px; at += piece_px) {
      const float along = std::min(at, length);
      const float aside = 0.55F * width * wobble(along + start);
      points.emplace_back(from.x + direction.x * along - direction.y * aside,
                          from.y + direction.y * along + direction.x * aside);
    }
    stroke(list, points, faded(colour, start > 0 ? again : firm), width);
  }
}

void pencilEllipse(ImDrawList& list, ImVec2 middle, ImVec2 radius, ImU32 colour, float width) {
  constexpr int corners = 28;  // round enough for a person's head
  for (const float start : {0.0F, second_ellipse}) {
    std::vector<ImVec2> points;
    for (int k = 0; k <= corners + 1; ++k) {
      const float angle = full_turn * static_cast<float>(k) / corners + start;
      const float out = 1 + 0.03F * wobble(12.0F * static_cast<float>(k) + start);
      points.emplace_back(middle.x + radius.x * out * std::cos(angle),
                          middle.y + radius.y * out * std::sin(angle));
    }
    stroke(list, points, faded(colour, start > 0 ? again : firm), width);
  }
}

void textAlong(ImDrawList& list, const Ui& ui, ImVec2 from, ImVec2 to, const std::string& text) {
  const ImVec2 middle((from.x + to.x) / 2, (from.y + to.y) / 2);
  const bool flat = std::abs(to.x - from.x) > std::abs(to.y - from.y);
  if (flat) {
    drawLabel(list, ui, ui.fonts.small, {middle.x, middle.y - 4 * ui.scale}, text, 0.5F, 1);
  } else {
    drawLabel(list, ui, ui.fonts.small, {middle.x + 8 * ui.scale, middle.y}, text, 0, 0.5F);
  }
}

}  // namespace petalproof::window
