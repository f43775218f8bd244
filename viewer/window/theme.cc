#include "viewer/window/theme.h"

#include <algorithm>
#include <initializer_list>

namespace petalproof::window {
namespace {

constexpr ImU32 rgb(ImU32 hex) { return IM_COL32(hex >> 16U & 255U, hex >> 8U & 255U, hex & 255U, 255); }

constexpr Theme light_theme{false,         rgb(0xe4dccf), rgb(0xfaf7f1), rgb(0x33291f),
                            rgb(0x766a5c), rgb(0xcdc2b1), rgb(0x2f5d8a), rgb(0xdbe4ea),
                            rgb(0xa8452a), rgb(0xf3e6bd), rgb(0x5a4a22), Colour{250, 247, 241}};
constexpr Theme dark_theme{true,          rgb(0x1f1c19), rgb(0x2b2723), rgb(0xeee6d9),
                           rgb(0xa89d8d), rgb(0x4b443c), rgb(0x8fbbe0), rgb(0x36434f),
                           rgb(0xe58a66), rgb(0x51472c), rgb(0xe9d9a4), Colour{43, 39, 35}};

void shapes(ImGuiStyle& style) {
  style.WindowPadding = {12, 10};
  style.FramePadding = {8, 4};
  style.ItemSpacing = {8, 6};
  style.ItemInnerSpacing = {6, 4};
  style.IndentSpacing = 16;
  style.ScrollbarSize = 11;
  style.GrabMinSize = 12;
  style.WindowRounding = 0;
  style.ChildRounding = 3;
  style.PopupRounding = 3;
  style.FrameRounding = 3;
  style.GrabRounding = 6;
  style.ScrollbarRounding = 6;
  style.TabRounding = 3;
  style.WindowBorderSize = 0;
  style.ChildBorderSize = 0;
  style.PopupBorderSize = 1;
  style.FrameBorderSize = 0;
}

void paint(ImGuiStyle& style, std::initializer_list<ImGuiCol> parts, ImU32 colour) {
  for (const ImGuiCol part : parts) style.Colors[part] = ImGui::ColorConvertU32ToFloat4(colour);
}

}  // namespace

const Theme& themeOf(bool dark) { return dark ? dark_theme : light_theme; }

ImU32 faded(ImU32 colour, float share) {
  const auto alpha = static_cast<ImU32>(255.0F * std::clamp(share, 0.0F, 1.0F));
  return (colour & ~IM_COL32_A_MASK) | alpha << IM_COL32_A_SHIFT;
}

void applyTheme(const Theme& theme, float scale) {
  ImGuiStyle style;
  shapes(style);
  if (theme.dark) {
    ImGui::StyleColorsDark(&style);
  } else {
    ImGui::StyleColorsLight(&style);
  }
  paint(style, {ImGuiCol_WindowBg, ImGuiCol_MenuBarBg, ImGuiCol_TitleBg, ImGuiCol_TitleBgActive},
        theme.paper);
  paint(style, {ImGuiCol_PopupBg}, theme.paper);
  paint(style, {ImGuiCol_ModalWindowDimBg}, faded(rgb(0x1a140e), 0.42F));
  paint(style, {ImGuiCol_ChildBg}, faded(theme.paper, 0));
  paint(style, {ImGuiCol_Text}, theme.ink);
  paint(style, {ImGuiCol_TextDisabled}, theme.faint);
  paint(style, {warm_colour}, theme.warm);
  paint(style, {ImGuiCol_Border, ImGuiCol_Separator, ImGuiCol_TableBorderLight}, theme.line);
  paint(style, {ImGuiCol_FrameBg}, faded(theme.line, 0.38F));
  paint(style, {ImGuiCol_FrameBgHovered, ImGuiCol_FrameBgActive}, faded(theme.pencil, 0.2F));
  paint(style, {ImGuiCol_Button, ImGuiCol_Header, ImGuiCol_Tab}, faded(theme.line, 0.45F));
  paint(style, {ImGuiCol_ButtonHovered, ImGuiCol_HeaderHovered, ImGuiCol_TabHovered},
        faded(theme.pencil, 0.22F));
  paint(style, {ImGuiCol_ButtonActive, ImGuiCol_HeaderActive, ImGuiCol_TabActive},
        faded(theme.pencil, 0.36F));
  paint(style,
        {ImGuiCol_CheckMark, ImGuiCol_SliderGrab, ImGuiCol_SliderGrabActive, ImGuiCol_NavHighlight,
         ImGuiCol_PlotHistogram},
        theme.pencil);
  paint(style, {ImGuiCol_ScrollbarBg}, faded(theme.paper, 0));
  paint(style, {ImGuiCol_ScrollbarGrab}, theme.line);
  paint(style, {ImGuiCol_ScrollbarGrabHovered, ImGuiCol_ScrollbarGrabActive}, theme.faint);
  paint(style, {ImGuiCol_TextSelectedBg}, faded(theme.pencil, 0.3F));
  style.ScaleAllSizes(scale);
  ImGui::GetStyle() = style;
}

}  // namespace petalproof::window
