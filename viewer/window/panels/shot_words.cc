#include "viewer/window/panels/shot_words.h"

#include "engine/base/length_text.h"
#include "engine/check/shot_sight.h"
#include "viewer/window/panels/fields.h"

#include <fmt/format.h>

namespace petalproof::window {
namespace {

std::string offWords(const camera::OffWall& off, Units units) {
  std::string words;
  const auto add = [&](const std::optional<double>& mm, const char* side) {
    if (mm && *mm <= 0) return;
    words +=
        fmt::format("{}{} {}", words.empty() ? "" : ", ", side, mm ? tapeText(*mm, units) : "without end");
  };
  add(off.left_mm, "left");
  add(off.right_mm, "right");
  add(off.top_mm, "above");
  add(off.bottom_mm, "below");
  return words;
}

std::string remedyWords(const check::ShotCheck& check, Units units) {
  std::string words;
  if (check.remedy.camera_out_mm)
    words = fmt::format("It would stay on the wall from {}", walkText(*check.remedy.camera_out_mm, units));
  if (check.remedy.lens_mm)
    words += fmt::format("{} {:.0f} mm", words.empty() ? "It would stay on the wall with" : ", or with",
                         *check.remedy.lens_mm);
  return words.empty() ? words : words + ".";
}

// A small share above 0 is never written as 0.
std::string shareWords(double share) {
  const double percent = 100 * share;
  constexpr double rounds_to_zero = 0.05;
  return percent > 0 && percent < rounds_to_zero ? "under 0.1 %" : fmt::format("{:.1f} %", percent);
}

}  // namespace

void drawShotWords(const app::State& state, const Ui& ui) {
  if (!app::isCurrent(state, state.shot)) return remark(ui, "Checking the shot ...");
  const check::ShotCheck& check = *state.live.shots[static_cast<std::size_t>(state.shot)].check;
  const Units units = state.plan().units;
  remark(ui, fmt::format("Blooms {}, {} board {},\nseams {} of the picture", shareWords(check.shares.bloom),
                         state.plan().wall.board.ground == plan::Ground::covered ? "covered" : "bare",
                         shareWords(check.shares.board), shareWords(check.shares.seam)));
  if (check.off.any()) {
    ImGui::PushStyleColor(ImGuiCol_Text, ui.theme.warm);
    ImGui::TextWrapped("The frame runs off the wall: %s.", offWords(check.off, units).c_str());
    ImGui::PopStyleColor();
    if (const std::string words = remedyWords(check, units); !words.empty()) remark(ui, words);
  }
  remark(ui,
         fmt::format("Room for {} side by side, or {} staggered, {} from the board.", check.room.side_by_side,
                     check.room.staggered, tapeText(check.room.distance_from_board_mm, units)));
  for (const std::string& warning : check.warnings) remark(ui, warning);
}

}  // namespace petalproof::window
