#include "viewer/window/panels/advice_part.h"

#include "engine/report/advice_words.h"
#include "viewer/window/panels/fields.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::window {
namespace {

constexpr std::size_t most_colours = 3;

std::string countWords(const ReadingCounts& counts) {
  if (counts.show == 0 && counts.faint == 0) return "no gap shows, none is faint";
  return fmt::format("{} show, {} are faint", counts.show, counts.faint);
}

bool tryButton(int id) {
  ImGui::PushID(id);
  const bool pressed = ImGui::SmallButton("Try it");
  ImGui::PopID();
  help("One step, which can be undone");
  return pressed;
}

void drawShotAdvice(const app::ShotAdviceNews& news, const ShotAdvice& advice, Units units, const Ui& ui,
                    app::Actions& actions) {
  const std::optional<TriedChange>& best = advice.remedy ? advice.remedy : advice.best;
  if (!best) return remark(ui, fmt::format("None of {} changes of the shot helps.", advice.tried));
  remark(ui, fmt::format("{}: {} then.", changeWords(best->change, units), countWords(best->counts)));
  if (tryButton(0)) actions.emplace_back(app::Edit{app::SetShot{news.shot, best->change.shot, "as advised"}});
}

void drawColourAdvice(const app::State& state, const Advice& advice, const Ui& ui, app::Actions& actions) {
  for (std::size_t k = 0; k < std::min(most_colours, advice.colours.size()); ++k) {
    const TriedColour& tried = advice.colours[k];
    if (tried.counts.show >= advice.now.show) continue;
    remark(ui, fmt::format("Boards in {}: {} then.", tried.board.name, countWords(tried.counts)));
    if (!tryButton(static_cast<int>(k) + 1)) continue;
    Wall wall = state.plan().wall;
    wall.board.colour = tried.board.colour;
    actions.emplace_back(app::Edit{app::SetWallDetails{wall, "board colour"}});
  }
}

}  // namespace

void drawAdvice(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (state.advising) {
    ImGui::ProgressBar(static_cast<float>(state.advising->share), {-1, 0}, "");
    remark(ui, state.advising->what);
    if (ImGui::Button("Stop looking")) actions.emplace_back(app::StopAdvising{});
    return;
  }
  if (ImGui::Button("What would help?")) actions.emplace_back(app::FindAdvice{});
  help("Tries changes of the shot, and other colours of the boards; it takes a while.");
  if (!state.advice || state.advice->shot != state.shot) return;
  const app::ShotAdviceNews& news = *state.advice;
  if (news.revision != state.now.revision) return remark(ui, "What was found is of the wall as it was then.");
  if (news.advice.now.show == 0) return remark(ui, "No gap shows in this shot.");
  for (const ShotAdvice& advice : news.advice.shots)
    drawShotAdvice(news, advice, state.plan().units, ui, actions);
  drawColourAdvice(state, news.advice, ui, actions);
}

}  // namespace petalproof::window
