#include "viewer/window/panels/fillers_page.h"

#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace petalproof::window {
namespace {

const std::vector<std::string>& hideWords() {
  static const std::vector<std::string> words{"what shows", "what shows or is faint", "all bare board"};
  return words;
}

std::string placeWords(const Plan& plan, TapePoint at) {
  return fmt::format("{} from the left, {} from the top",
                     tapeText(toMillimetres(at.from_left, plan), plan.units),
                     tapeText(toMillimetres(at.from_top, plan), plan.units));
}

// Why the search put it there; nothing where the hand did, or moved it since.
const app::FillerNote* noteOf(const app::State& state, const Filler& filler) {
  if (!state.filled) return nullptr;
  const auto& placed = state.filled->placed;
  const auto found = std::find_if(placed.begin(), placed.end(), [&](const app::FillerNote& note) {
    return note.bloom == filler.placement.bloom && note.at == filler.placement.at;
  });
  return found == placed.end() ? nullptr : &*found;
}

void drawFiller(const app::State& state, int number, app::Actions& actions) {
  const Filler& filler = state.plan().fillers[static_cast<std::size_t>(number)];
  const app::BloomRef ref{-1, -1, number};
  const auto& chosen = state.selection.blooms;
  const app::FillerNote* const note = noteOf(state, filler);
  ImGui::PushID(number);
  const std::string words =
      fmt::format("{}{}   {}", note ? "* " : "", filler.placement.bloom, filler.fixed ? "fixed" : "");
  if (ImGui::Selectable(words.c_str(), std::find(chosen.begin(), chosen.end(), ref) != chosen.end()))
    actions.emplace_back(app::Select{app::Selection{{ref}, {}}});
  std::string why = placeWords(state.plan(), filler.placement.at);
  if (note) {
    why += fmt::format(".\nOn {}; hides", note->over);
    constexpr std::size_t most = 6;
    for (std::size_t k = 0; k < std::min(most, note->hides.size()); ++k) why += " " + note->hides[k];
    if (note->hides.size() > most) why += fmt::format(" and {} more", note->hides.size() - most);
  }
  help(why.c_str());
  ImGui::PopID();
}

void drawToCut(const app::State& state, const Ui& ui) {
  if (!state.filled || state.filled->totals.empty()) return;
  heading(ui, "To cut");
  for (const FillerTotal& total : state.filled->totals) {
    const auto kind = static_cast<std::size_t>(total.kind);
    if (kind >= state.plan().blooms.size()) continue;
    const float side = ImGui::GetTextLineHeight();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddRectFilled(
        at, {at.x + side, at.y + side},
        IM_COL32(total.colour.red, total.colour.green, total.colour.blue, 255));
    ImGui::Dummy({side, side});
    ImGui::SameLine();
    ImGui::Text("%d %s, and %d to spare", total.count, state.plan().blooms[kind].name.c_str(), total.spare);
  }
}

void drawNews(const app::State& state, const Ui& ui) {
  if (!state.filled) return;
  const app::FillNews& news = *state.filled;
  remark(ui, news.placed.empty() ? std::string("Nothing has to be hidden.")
                                 : fmt::format("{} placed, marked with *. No placement needs fewer than {}.",
                                               news.placed.size(), news.at_least));
  for (const std::string& note : news.notes) remark(ui, note);
}

// Gaps that stay, those with the same reason together.
void drawLeft(const app::State& state, const Ui& ui) {
  if (!state.filled || state.filled->left.empty()) return;
  heading(ui, "Left as they are");
  std::map<std::string, std::vector<std::string>> ids;
  for (const LeftGap& left : state.filled->left) ids[left.why].push_back(left.id);
  constexpr std::size_t most_named = 4;
  for (const auto& [why, gaps] : ids) {
    std::string names;
    for (std::size_t k = 0; k < std::min(most_named, gaps.size()); ++k)
      names += (k > 0 ? ", " : "") + gaps[k];
    if (gaps.size() > most_named) names += fmt::format(" and {} more", gaps.size() - most_named);
    remark(ui, fmt::format("{}: {}", names, why));
  }
}

}  // namespace

void FillersPage::drawSearch(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (state.filling) {
    ImGui::ProgressBar(static_cast<float>(state.filling->share), {-1, 0}, "");
    remark(ui, state.filling->what);
    if (ImGui::Button("Stop")) actions.emplace_back(app::StopPlacing{});
    return;
  }
  if (const auto picked = choice("is hidden", hideWords(), hide_, 190 * ui.scale)) hide_ = *picked;
  if (!state.plan().fillers.empty()) ImGui::Checkbox("take the others away first", &start_over_);
  help("All but those that the hand fixed");
  if (ImGui::Button("Place fillers"))
    actions.emplace_back(app::PlaceFillers{hide_ == 0   ? Hide::shows
                                           : hide_ == 1 ? Hide::faint
                                                        : Hide::all,
                                           start_over_});
  help(
      "Finds the fewest small blooms that hide it in every shot, and proves it. It takes a while; one undo "
      "takes "
      "all of them away again.");
  if (state.plan().fillers.empty()) return;
  ImGui::SameLine();
  if (ImGui::Button("Take them away")) actions.emplace_back(app::Edit{app::TakeFillersAway{false}});
}

app::Actions FillersPage::draw(const app::State& state, const Ui& ui) {
  app::Actions actions;
  drawSearch(state, ui, actions);
  drawNews(state, ui);
  drawToCut(state, ui);
  const std::size_t count = state.plan().fillers.size();
  if (count == 0) remark(ui, "No filler hangs on the wall.");
  if (count > 0) heading(ui, fmt::format("{} on the wall", count).c_str());
  for (std::size_t k = 0; k < count; ++k) drawFiller(state, static_cast<int>(k), actions);
  drawLeft(state, ui);
  return actions;
}

}  // namespace petalproof::window
