#include "viewer/window/panels/kind_part.h"

#include "engine/plan/shape_names.h"

#include <fmt/format.h>

namespace petalproof::window {

void KindPart::set(Work& work, int stroke) {
  work.actions.emplace_back(app::Edit{app::SetKind{work.kind, work.bloom}, stroke});
}

template <class Value>
void KindPart::take(Work& work, const std::optional<Value>& typed, Value& into) {
  if (!typed) return;
  into = *typed;
  set(work);
}

void KindPart::drawNames(Work& work) {
  take(work, fields_.text("name", work.bloom.name, 2 * work.width), work.bloom.name);
  take(work, fields_.text("label", work.bloom.label, 2 * work.width), work.bloom.label);
  help("For people; the name is what the plan uses");
}

void KindPart::drawForm(Work& work) {
  plan::Bloom& bloom = work.bloom;
  const auto* const shape = std::get_if<plan::Shape>(&bloom.form);
  if (!shape) return remark(work.ui, "the maker's own shape: " + std::get<plan::MeshFile>(bloom.form).path);
  std::vector<std::string> shapes;
  for (const std::string_view name : plan::shapeNames()) shapes.emplace_back(name);
  const auto picked = choice("shape", shapes, static_cast<int>(*shape), 2 * work.width);
  if (!picked) return;
  bloom.form = static_cast<plan::Shape>(*picked);
  if (!plan::takesWidth(static_cast<plan::Shape>(*picked))) bloom.width.reset();
  bloom.petals.reset();
  bloom.layers.reset();
  set(work);
}

void KindPart::drawPetals(Work& work) {
  if (!std::holds_alternative<plan::Shape>(work.bloom.form)) return;
  take(work, fields_.usualWhole("petals", work.bloom.petals, work.width), work.bloom.petals);
  ImGui::SameLine();
  take(work, fields_.usualWhole("layers", work.bloom.layers, work.width), work.bloom.layers);
}

void KindPart::drawStanding(Work& work) {
  plan::Bloom& bloom = work.bloom;
  const Units units = work.state.plan().units;
  const auto* const shape = std::get_if<plan::Shape>(&bloom.form);
  const bool is_long = shape && plan::takesWidth(*shape);
  take(work, fields_.length(is_long ? "long" : "across", bloom.diameter, units, work.width), bloom.diameter);
  ImGui::SameLine();
  if (is_long)
    take(work, fields_.usualLength("wide", bloom.width, units, work.width), bloom.width);
  else
    take(work, fields_.usualLength("stands out", bloom.depth, units, work.width), bloom.depth);
  if (is_long) {
    take(work, fields_.usualLength("stands out", bloom.depth, units, work.width), bloom.depth);
    ImGui::SameLine();
  }
  take(work, fields_.usualLength("plate", bloom.plate, units, work.width, "Left empty, 0.3 of the diameter"),
       bloom.plate);
  help("The disc under a bloom that is stuck to the board");
}

void KindPart::drawMaking(Work& work) {
  plan::Bloom& bloom = work.bloom;
  take(work, fields_.number("strips", bloom.strips, 1, work.width), bloom.strips);
  help("Adhesive strips for each bloom");
  ImGui::SameLine();
  take(work, fields_.number("minutes", bloom.minutes, 1, work.width, {"minutes", "min"}), bloom.minutes);
  help("The time to cut and build a bloom");
  bool filler = bloom.filler;
  if (ImGui::Checkbox("may be a filler", &filler)) {
    bloom.filler = filler;
    set(work);
  }
  if (!bloom.filler) return;
  ImGui::SameLine();
  take(work, fields_.usualWhole("stock", bloom.stock, work.width * 0.7F), bloom.stock);
  help("The largest number of fillers of this kind; empty: no limit");
}

// The sheets of card that a bloom takes, for each card that it is cut from.
void KindPart::drawCard(Work& work) {
  std::vector<plan::Card>& card = work.bloom.card;
  for (std::size_t k = 0; k < card.size(); ++k) {
    ImGui::PushID(static_cast<int>(k));
    take(work, fields_.number("sheets of", card[k].sheets, 2, work.width), card[k].sheets);
    ImGui::SameLine();
    take(work, fields_.text("##card", card[k].name, 1.4F * work.width), card[k].name);
    help("Which card, such as rust 80 lb");
    ImGui::SameLine();
    const bool gone = ImGui::Button("x");
    ImGui::PopID();
    if (!gone) continue;
    card.erase(card.begin() + static_cast<std::ptrdiff_t>(k));
    return set(work);
  }
  if (!ImGui::Button(card.empty() ? "Card for a bloom" : "Another card")) return;
  if (card.size() == 1 && card.front().name.empty()) card.front().name = "card 1";
  card.push_back({card.empty() ? "" : fmt::format("card {}", card.size() + 1), 1});
  set(work);
}

void KindPart::drawColours(Work& work) {
  auto& colours = work.bloom.colours;
  for (std::size_t k = 0; k < colours.size(); ++k) {
    ImGui::PushID(static_cast<int>(k));
    if (const auto picked = colours_.draw("##colour", work.ui, colours[k])) {
      colours[k] = picked->colour;
      set(work, picked->stroke);
    }
    ImGui::PopID();
    ImGui::SameLine();
  }
  if (ImGui::Button("+##colour")) {
    colours.push_back(colours.back());
    set(work);
  }
  help("Adds a colour; copies take the colours in turn");
  if (colours.size() < 2) return;
  ImGui::SameLine();
  if (ImGui::Button("-##colour")) {
    colours.pop_back();
    set(work);
  }
  help("Removes the last colour");
}

void KindPart::draw(const app::State& state, const Ui& ui, int kind, app::Actions& actions) {
  Work work{state, ui, kind, state.plan().blooms[static_cast<std::size_t>(kind)], actions, 62 * ui.scale};
  ImGui::Indent();
  drawNames(work);
  drawForm(work);
  drawStanding(work);
  drawPetals(work);
  drawColours(work);
  drawMaking(work);
  drawCard(work);
  if (ImGui::Button("Delete the kind")) actions.emplace_back(app::Edit{app::DeleteKind{kind}});
  ImGui::SameLine();
  if (ImGui::Button("Another like it")) {
    work.bloom.name += " 2";
    actions.emplace_back(app::Edit{app::AddKind{work.bloom}});
  }
  ImGui::Unindent();
}

}  // namespace petalproof::window
