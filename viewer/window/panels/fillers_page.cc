#include "viewer/window/panels/fillers_page.h"

#include "engine/base/length_text.h"
#include "viewer/app/filler_notes.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace petalproof::window {
namespace {

const std::vector<std::string>& hideWords() {
  static const std::vector<std::string> words{"what shows", "what shows or is faint", "all bare board"};
  return words;
}

std::string placeWords(const plan::Plan& plan, plan::TapePoint at) {
  return fmt::format("{} from the left, {} from the top",
                     tapeText(toMillimetres(at.from_left, plan), plan.units),
                     tapeText(toMillimetres(at.from_top, plan), plan.units));
}

std::string namesOf(const std::vector<std::string>& names, std::size_t most) {
  std::string words;
  for (std::size_t k = 0; k < std::min(most, names.size()); ++k) words += (k > 0 ? ", " : "") + names[k];
  if (names.size() > most) words += fmt::format(" and {} more", names.size() - most);
  return words;
}

// Why the filler hangs there; empty where it isn't known.
std::string whyWords(const app::State& state, const plan::Filler& filler) {
  const app::FillerNote* const note = app::noteOf(state, filler);
  if (note) return fmt::format("on {}; hides {}", note->over, app::countsByShot(note->hides));
  return filler.fixed ? "placed by hand" : "";
}

// Lists the kinds that may be fillers, with a choice that adds a kind.
void drawKinds(const app::State& state, const Ui& ui, app::Actions& actions) {
  std::vector<std::string> used;
  std::vector<std::string> unused;
  for (const plan::Bloom& bloom : state.plan().blooms) (bloom.filler ? used : unused).push_back(bloom.name);
  remark(ui, used.empty() ? "No kind of bloom may be a filler yet: choose one, best a small one."
                          : fmt::format("by {}, as few as it takes", namesOf(used, 6)));
  if (unused.empty()) return;
  const auto picked = choice("may be a filler##too", unused, -1, 130 * ui.scale, "another kind");
  if (!picked) return;
  for (std::size_t k = 0; k < state.plan().blooms.size(); ++k) {
    plan::Bloom bloom = state.plan().blooms[k];
    if (bloom.name != unused[static_cast<std::size_t>(*picked)]) continue;
    bloom.filler = true;
    actions.emplace_back(app::Edit{app::SetKind{static_cast<int>(k), std::move(bloom)}});
  }
}

// A filler, to be picked, fixed or removed; below it the reason for its place.
void drawFiller(const app::State& state, const Ui& ui, int number, app::Actions& actions) {
  const plan::Filler& filler = state.plan().fillers[static_cast<std::size_t>(number)];
  const app::BloomRef ref{-1, -1, number};
  const auto& chosen = state.selection.blooms;
  const bool is_chosen = std::find(chosen.begin(), chosen.end(), ref) != chosen.end();
  ImGui::PushID(number);
  const float buttons = 106 * ui.scale;  // "fixed" and "x"
  const float width = std::max(ImGui::GetContentRegionAvail().x - buttons, 60 * ui.scale);
  const float left = ImGui::GetCursorPosX();
  const std::string words = (app::glows(state, number) ? "* " : "") + filler.placement.bloom;
  ImGui::AlignTextToFramePadding();
  if (ImGui::Selectable(words.c_str(), is_chosen, 0, {width, 0}))
    actions.emplace_back(app::Select{app::Selection{{ref}, {}}});
  help(placeWords(state.plan(), filler.placement.at).c_str());
  ImGui::SameLine(left + width + 8 * ui.scale);
  bool fixed = filler.fixed;
  if (ImGui::Checkbox("fixed", &fixed)) actions.emplace_back(app::Edit{app::FixFillers{{number}, fixed}});
  help("Stays where it is when fillers are placed anew");
  ImGui::SameLine();
  if (ImGui::Button("x")) actions.emplace_back(app::Edit{app::DeleteBlooms{{ref}}});
  help("Removes this filler");
  const std::string why = whyWords(state, filler);
  if (!why.empty()) {
    ImGui::PushFont(ui.fonts.small);
    remark(ui, why);
    ImGui::PopFont();
  }
  ImGui::PopID();
}

void drawToCut(const app::State& state, const Ui& ui) {
  const std::vector<fill::FillerTotal> totals = app::fillersToCut(state);
  if (totals.empty()) return;
  heading(ui, "To cut, as they hang now");
  for (const fill::FillerTotal& total : totals) {
    const float side = ImGui::GetTextLineHeight();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddRectFilled(
        at, {at.x + side, at.y + side},
        IM_COL32(total.colour.red, total.colour.green, total.colour.blue, 255));
    ImGui::Dummy({side, side});
    ImGui::SameLine();
    std::string words =
        fmt::format("{} {} {}", total.count, state.plan().blooms[static_cast<std::size_t>(total.kind)].name,
                    toHex(total.colour));
    if (total.spare > 0) words += fmt::format(", and {} to spare", total.spare);
    ImGui::TextUnformatted(words.c_str());
  }
}

void drawNews(const app::State& state, const Ui& ui) {
  if (!state.filled) return;
  const app::FillNews& news = *state.filled;
  remark(ui,
         news.placed.empty()
             ? (news.left.empty() ? "Nothing has to be hidden." : "No filler could be placed.")
             : fmt::format("{} placed{}. No placement hides the same with fewer than {}.", news.placed.size(),
                           news.glow ? "; they glow on the wall, marked * here" : "", news.at_least));
  if (!news.left.empty()) {
    ImGui::PushStyleColor(ImGuiCol_Text, ui.theme.warm);
    ImGui::TextWrapped("Gaps that could not be hidden: %d; why stands below.",
                       static_cast<int>(news.left.size()));
    ImGui::PopStyleColor();
  }
  for (const std::string& note : news.notes) remark(ui, note);
}

// The next gap of the ids that can be shown, after the gap that is chosen now.
std::optional<app::GapRef> nextOf(const app::State& state, const std::vector<std::string>& ids) {
  std::vector<app::GapRef> gaps;
  for (const std::string& id : ids)
    if (const auto gap = app::gapOfId(state, id)) gaps.push_back(*gap);
  if (gaps.empty()) return std::nullopt;
  const auto shown = state.gap ? std::find(gaps.begin(), gaps.end(), *state.gap) : gaps.end();
  return shown == gaps.end() || shown + 1 == gaps.end() ? gaps.front() : *(shown + 1);
}

// Draws the gaps that stay for the same reason; a button goes through them.
void drawReason(const app::State& state, const Ui& ui, const std::string& why,
                const std::vector<std::string>& ids, app::Actions& actions) {
  remark(ui, fmt::format("{}: {}.", app::countsByShot(ids), why));
  const auto next = nextOf(state, ids);
  if (!next) return;
  ImGui::PushID(why.c_str());
  if (ImGui::SmallButton(ids.size() == 1 ? "Show it" : "Show the next"))
    actions.emplace_back(app::ChooseGap{*next});
  ImGui::PopID();
}

// Draws the gaps that stay, grouped by their reasons, the most frequent reasons first.
void drawLeft(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (!state.filled || state.filled->left.empty()) return;
  heading(ui, "Left as they are");
  constexpr std::size_t most_reasons = 6;  // listed, so that the page stays short
  std::map<std::string, std::vector<std::string>> ids;
  bool for_plates = false;
  for (const fill::LeftGap& left : state.filled->left) {
    ids[left.why].push_back(left.id);
    for_plates |= left.by_plates;
  }
  if (for_plates)
    remark(
        ui,
        "A filler's base plate, the disc it is stuck on by, needs bare board under it. A smaller kind, or a "
        "bloom moved a little aside, makes room.");
  std::vector<std::pair<std::string, std::vector<std::string>>> reasons(ids.begin(), ids.end());
  std::stable_sort(reasons.begin(), reasons.end(),
                   [](const auto& a, const auto& b) { return a.second.size() > b.second.size(); });
  for (std::size_t k = 0; k < std::min(most_reasons, reasons.size()); ++k)
    drawReason(state, ui, reasons[k].first, reasons[k].second, actions);
  if (reasons.size() > most_reasons)
    remark(ui, fmt::format("and {} more reasons", reasons.size() - most_reasons));
}

}  // namespace

void FillersPage::drawSearch(const app::State& state, const Ui& ui, app::Actions& actions) {
  if (state.filling) {
    ImGui::ProgressBar(static_cast<float>(state.filling->share), {-1, 0}, "");
    remark(ui, state.filling->step);
    if (ImGui::Button("Stop")) actions.emplace_back(app::StopPlacing{});
    return;
  }
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted("Hide");
  ImGui::SameLine();
  if (const auto picked = choice("##hide", hideWords(), hide_, 200 * ui.scale)) hide_ = *picked;
  if (!state.plan().fillers.empty()) {
    ImGui::Checkbox("remove the other fillers first", &start_over_);
    help("Fixed fillers stay.");
  }
  const auto mayFill = [](const plan::Bloom& bloom) { return bloom.filler; };
  const auto& kinds = state.plan().blooms;
  if (std::none_of(kinds.begin(), kinds.end(), mayFill)) return;
  if (mainButton(ui, "Place fillers"))
    actions.emplace_back(app::PlaceFillers{hide_ == 0   ? fill::Hide::shows
                                           : hide_ == 1 ? fill::Hide::faint
                                                        : fill::Hide::all,
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
  if (!state.filling) drawKinds(state, ui, actions);
  drawNews(state, ui);
  drawToCut(state, ui);
  drawLeft(state, ui, actions);
  const std::size_t count = state.plan().fillers.size();
  if (count == 0)
    remark(ui,
           "Fillers are small blooms added for no other reason than to hide bare board and seams. None hangs "
           "yet.");
  if (count > 0) heading(ui, fmt::format("{} on the wall", count).c_str());
  for (std::size_t k = 0; k < count; ++k) drawFiller(state, ui, static_cast<int>(k), actions);
  return actions;
}

}  // namespace petalproof::window
