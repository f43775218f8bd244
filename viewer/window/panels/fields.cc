#include "viewer/window/panels/fields.h"

#include "engine/base/length_text.h"
#include "viewer/app/field_text.h"
#include "viewer/window/theme.h"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstring>
#include <utility>

namespace petalproof::window {
namespace {

constexpr std::size_t most_letters = 256;  // of a field: longer than any name

bool isBlank(const std::string& text) { return text.find_first_not_of(' ') == std::string::npos; }

constexpr const char* as_with_a_tape = "As with a tape: 7 1/4, 8 ft 4 in, 60 cm";
constexpr const char* not_a_length = "Not a length. As with a tape: 7 1/4, 8 ft 4 in, 60 cm";
constexpr const char* not_a_number = "Not a number that fits here. Such as 7, 2.5 or 7 1/4";
constexpr const char* not_whole = "A whole number is needed";
constexpr double most_whole = 1e6;  // far beyond every limit of a plan, and an int everywhere

// Readers of texts for Fields::read(); nothing for a text that can't be read.
auto lengthIn(Units units) {
  return [units](const std::string& text) { return lengthFromText(text, units); };
}
auto numberIn(std::initializer_list<std::string_view> units) {
  return [units](const std::string& text) { return app::numberFromText(text, units); };
}
std::optional<int> wholeFrom(const std::string& text) {
  const auto read = app::numberFromText(text, {});
  if (!read || *read != std::floor(*read) || std::abs(*read) > most_whole) return std::nullopt;
  return static_cast<int>(*read);
}
std::optional<std::uint64_t> countFrom(const std::string& text) {
  std::uint64_t count = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), count);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return count;
}

// A reader that also takes a blank text, which reads as an empty optional.
template <class From>
auto orNothing(const From& from) {
  return [from](const std::string& text) {
    using Value = decltype(from(text));
    if (isBlank(text)) return std::optional<Value>(std::in_place);
    const Value read = from(text);
    return read ? std::optional<Value>(std::in_place, read) : std::optional<Value>();
  };
}

}  // namespace

std::optional<std::string> Fields::text(const char* label, const std::string& value, float width) {
  const ImGuiID id = ImGui::GetID(label);
  const auto typing = typed_.find(id);
  const auto refused = refused_.find(id);
  if (refused != refused_.end() && refused->second.value != value) refused_.erase(id);
  const bool is_refused = refused_.contains(id);
  std::array<char, most_letters> letters{};
  const std::string& shown = typing != typed_.end() ? typing->second : is_refused ? refused_[id].text : value;
  std::memcpy(letters.data(), shown.data(), std::min(shown.size(), letters.size() - 1));
  ImGui::SetNextItemWidth(width);
  if (is_refused) ImGui::PushStyleColor(ImGuiCol_Text, ImGui::GetStyleColorVec4(warm_colour));
  const bool changed =
      ImGui::InputText(label, letters.data(), letters.size(), ImGuiInputTextFlags_AutoSelectAll);
  if (is_refused) ImGui::PopStyleColor();
  if (ImGui::IsItemActive()) {
    typed_[id] = letters.data();
    return std::nullopt;
  }
  if (typing == typed_.end()) return std::nullopt;
  const std::string finished = changed ? std::string(letters.data()) : std::move(typing->second);
  typed_.erase(typing);
  refused_.erase(id);
  if (ImGui::IsKeyPressed(GLFW_KEY_ESCAPE) || finished == value) return std::nullopt;
  return finished;
}

void Fields::refuse(const char* label, const std::string& text, const std::string& value) {
  refused_[ImGui::GetID(label)] = {text, value};
}

void Fields::explain(const char* label, const Reasons& reasons) const {
  if (refused_.contains(ImGui::GetID(label)))
    help(reasons.wrong);
  else if (reasons.usually != nullptr)
    help(reasons.usually);
}

template <class From>
auto Fields::read(const char* label, const std::string& shown, float width, const Reasons& reasons,
                  const From& from) {
  const auto finished = text(label, shown, width);
  const auto value = finished ? from(*finished) : decltype(from(shown)){};
  if (finished && !value) refuse(label, *finished, shown);
  explain(label, reasons);
  return value;
}

std::optional<Length> Fields::length(const char* label, Length value, Units units, float width) {
  return read(label, app::fieldText(value, units), width, {not_a_length, as_with_a_tape}, lengthIn(units));
}

std::optional<std::optional<Length>> Fields::usualLength(const char* label,
                                                         const std::optional<Length>& value, Units units,
                                                         float width, const char* words) {
  return read(label, value ? app::fieldText(*value, units) : "", width, {not_a_length, words},
              orNothing(lengthIn(units)));
}

std::optional<double> Fields::number(const char* label, double value, int decimals, float width,
                                     std::initializer_list<std::string_view> units) {
  return read(label, app::numberText(value, decimals), width, {not_a_number}, numberIn(units));
}

std::optional<std::optional<double>> Fields::optionalNumber(const char* label,
                                                            const std::optional<double>& value, int decimals,
                                                            float width,
                                                            std::initializer_list<std::string_view> units) {
  return read(label, value ? app::numberText(*value, decimals) : "", width, {not_a_number},
              orNothing(numberIn(units)));
}

std::optional<int> Fields::whole(const char* label, int value, float width) {
  return read(label, std::to_string(value), width, {not_whole}, wholeFrom);
}

std::optional<std::optional<int>> Fields::usualWhole(const char* label, const std::optional<int>& value,
                                                     float width) {
  return read(label, value ? std::to_string(*value) : "", width,
              {not_whole, "Left empty, as is usual for the shape"}, orNothing(wholeFrom));
}

std::optional<std::uint64_t> Fields::count(const char* label, std::uint64_t value, float width) {
  return read(label, std::to_string(value), width, {not_whole}, countFrom);
}

ImVec4 shownAs(Colour colour) {
  return ImGui::ColorConvertU32ToFloat4(IM_COL32(colour.red, colour.green, colour.blue, 255));
}

std::optional<ColourFields::Picked> ColourFields::draw(const char* label, const Ui& ui, Colour colour) {
  const auto channel = [](float share) {
    return static_cast<std::uint8_t>(std::lround(std::clamp(share, 0.0F, 1.0F) * 255));
  };
  ImVec4 shown = shownAs(colour);
  const bool changed = ImGui::ColorEdit3(label, &shown.x, ImGuiColorEditFlags_NoInputs);
  if (ImGui::IsItemActivated()) stroke_ = ui.newStroke();
  if (!changed) return std::nullopt;
  return Picked{{channel(shown.x), channel(shown.y), channel(shown.z)}, stroke_};
}

std::optional<Sliders::Slid> Sliders::draw(const char* label, const Ui& ui, float value, float low,
                                           float high, float round, const char* format, bool by_ratio) {
  float slid = value;
  const ImGuiSliderFlags flags =
      ImGuiSliderFlags_AlwaysClamp | (by_ratio ? ImGuiSliderFlags_Logarithmic : ImGuiSliderFlags_None);
  const bool moved = ImGui::SliderFloat(label, &slid, low, high, format, flags);
  if (ImGui::IsItemActivated()) stroke_ = ui.newStroke();
  slid = round > 0 ? std::round(slid / round) * round : slid;
  if (!moved || slid == value) return std::nullopt;
  return Slid{slid, stroke_};
}

void help(const char* words) {
  if (!ImGui::IsItemHovered()) return;
  ImGui::BeginTooltip();
  ImGui::PushTextWrapPos(ImGui::GetFontSize() * 22);
  ImGui::TextUnformatted(words);
  ImGui::PopTextWrapPos();
  ImGui::EndTooltip();
}

void remark(const Ui& ui, const std::string& words) {
  ImGui::PushStyleColor(ImGuiCol_Text, ui.theme.faint);
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(words.c_str());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
}

bool mainButton(const Ui& ui, const char* word) {
  ImGui::PushStyleColor(ImGuiCol_Button, ui.theme.pencil);
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, faded(ui.theme.pencil, 0.86F));
  ImGui::PushStyleColor(ImGuiCol_ButtonActive, faded(ui.theme.pencil, 0.7F));
  ImGui::PushStyleColor(ImGuiCol_Text, ui.theme.paper);
  const bool pressed = ImGui::Button(word);
  ImGui::PopStyleColor(4);
  return pressed;
}

void heading(const Ui& ui, const char* words) {
  ImGui::Dummy({0, 3 * ui.scale});
  ImGui::PushFont(ui.fonts.bold);
  ImGui::TextUnformatted(words);
  ImGui::PopFont();
}

std::optional<int> choice(const char* label, const std::vector<std::string>& words, int chosen, float width,
                          const char* unchosen) {
  ImGui::SetNextItemWidth(width);
  const bool known = chosen >= 0 && static_cast<std::size_t>(chosen) < words.size();
  if (!ImGui::BeginCombo(label, known ? words[static_cast<std::size_t>(chosen)].c_str() : unchosen))
    return std::nullopt;
  std::optional<int> picked;
  for (std::size_t k = 0; k < words.size(); ++k) {
    const int number = static_cast<int>(k);
    if (ImGui::Selectable(words[k].c_str(), number == chosen) && number != chosen) picked = number;
  }
  ImGui::EndCombo();
  return picked;
}

}  // namespace petalproof::window
