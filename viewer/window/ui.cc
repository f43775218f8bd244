#include "viewer/window/ui.h"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <cfloat>
#include <cmath>
#include <cstdint>

namespace petalproof::window {

bool Ui::wasPressed(int key, int mods) const {
  constexpr int counted = GLFW_MOD_CONTROL | GLFW_MOD_SHIFT | GLFW_MOD_ALT;
  return !ImGui::GetIO().WantTextInput && std::any_of(keys.begin(), keys.end(), [&](const KeyPress& press) {
    return press.key == key && (press.mods & counted) == mods;
  });
}

bool Ui::wasPressedAnyhow(int key) const {
  return std::any_of(keys.begin(), keys.end(), [key](const KeyPress& press) { return press.key == key; });
}

Area drawText(ImDrawList& list, ImFont* font, ImU32 colour, ImVec2 at, const std::string& text, float along,
              float down) {
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, text.c_str());
  const ImVec2 from(std::round(at.x - along * size.x), std::round(at.y - down * size.y));
  list.AddText(font, font->FontSize, from, colour, text.c_str());
  return {from, {from.x + size.x, from.y + size.y}};
}

Area drawTextInside(ImDrawList& list, ImFont* font, ImU32 colour, ImVec2 at, const std::string& text,
                    float along, float down, const Area& inside) {
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, text.c_str());
  const ImVec2 from(
      std::clamp(at.x - along * size.x, inside.min.x, std::max(inside.min.x, inside.max.x - size.x)),
      std::clamp(at.y - down * size.y, inside.min.y, std::max(inside.min.y, inside.max.y - size.y)));
  return drawText(list, font, colour, from, text);
}

Area drawLabel(ImDrawList& list, const Ui& ui, ImFont* font, ImVec2 at, const std::string& text, float along,
               float down) {
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, text.c_str());
  const float room = 4 * ui.scale;
  const ImVec2 from(std::round(at.x - along * size.x), std::round(at.y - down * size.y));
  const Area paper{{from.x - room, from.y - room / 2}, {from.x + size.x + room, from.y + size.y + room / 2}};
  list.AddRectFilled(paper.min, paper.max, faded(ui.theme.paper, 0.9F), 3 * ui.scale);
  list.AddText(font, font->FontSize, from, ui.theme.ink, text.c_str());
  return paper;
}

std::string shortened(ImFont* font, const std::string& text, float width) {
  const auto fits = [&](const std::string& t) {
    return font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, t.c_str()).x <= width;
  };
  if (fits(text)) return text;
  std::string part = text;
  while (!part.empty() && !fits(part + "...")) {
    part.pop_back();
    // A letter of several bytes is removed as a whole.
    while (!part.empty() && (static_cast<unsigned char>(part.back()) & 0xC0U) == 0x80U) part.pop_back();
    if (!part.empty() && static_cast<unsigned char>(part.back()) >= 0xC0U) part.pop_back();
  }
  return part + "...";
}

void drawSheet(ImDrawList& list, const Ui& ui, const Area& area) {
  const float shade = 3 * ui.scale;
  for (int k = 3; k > 0; --k) {
    const float out = shade * static_cast<float>(k) / 3;
    list.AddRectFilled({area.min.x - out / 2, area.min.y}, {area.max.x + out / 2, area.max.y + out},
                       IM_COL32(40, 28, 16, ui.theme.dark ? 40 : 16), 3 * ui.scale);
  }
  list.AddRectFilled(area.min, area.max, ui.theme.paper, 2 * ui.scale);
}

void drawTexture(ImDrawList& list, unsigned texture, const Area& area) {
  auto* const id =
      reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture));  // NOLINT: ImGui's way
  list.AddImage(id, area.min, area.max, {0, 1}, {1, 0});
}

float pixelDensity() { return std::max(ImGui::GetIO().DisplayFramebufferScale.x, 1.0F); }

glm::ivec2 pixelsOf(const Area& area) {
  return {std::max(1, static_cast<int>(area.width() * pixelDensity())),
          std::max(1, static_cast<int>(area.height() * pixelDensity()))};
}

void drawDashed(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width, float dash,
                float space) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (length <= 0) return;
  const ImVec2 direction((to.x - from.x) / length, (to.y - from.y) / length);
  for (float at = 0; at < length; at += dash + space) {
    const float end = std::min(at + dash, length);
    list.AddLine({from.x + direction.x * at, from.y + direction.y * at},
                 {from.x + direction.x * end, from.y + direction.y * end}, colour, width);
  }
}

void beginArea(const char* name, const Area& area, Keys keys) {
  ImGui::SetNextWindowPos(area.min);
  ImGui::SetNextWindowSize({std::max(area.width(), 1.0F), std::max(area.height(), 1.0F)});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
  ImGui::PushStyleColor(ImGuiCol_WindowBg, 0);
  ImGui::Begin(name, nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoScrollWithMouse |
                   ImGuiWindowFlags_NoFocusOnAppearing |
                   (keys == Keys::forOthers ? ImGuiWindowFlags_NoNav : 0));
  ImGui::PopStyleColor();
  ImGui::PopStyleVar();
}

}  // namespace petalproof::window
