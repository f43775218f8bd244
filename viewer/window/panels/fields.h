#pragma once
// Fields, sliders and other small widgets that the panels share.
//
// Fields keep the typed text until it is finished: with Enter, or by leaving the field. Escape keeps the old
// value. A text that can't be read stays in its field, in another colour, with the reason below the mouse,
// until the person corrects it or the value changes. Fields of different things need different ids
// (ImGui::PushID), or a refused text would appear in the wrong field; a newly opened plan needs new Fields.

#include "engine/base/colour.h"
#include "engine/base/units.h"
#include "viewer/window/ui.h"

#include <cstdint>
#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::window {

class Fields {
 public:
  // Each returns the new value in the frame in which the person finished typing it. The label stands right of
  // the field. Lengths take fractions and units of their own ("7 1/4", "60 cm").
  std::optional<Length> length(const char* label, Length value, Units units, float width);
  // An empty field means the usual length. The outer optional holds a value when the typing was finished.
  std::optional<std::optional<Length>> usualLength(
      const char* label, const std::optional<Length>& value, Units units, float width,
      const char* words = "Left empty, as is usual for the shape");
  // Reads as app::numberFromText() with these units.
  std::optional<double> number(const char* label, double value, int decimals, float width,
                               std::initializer_list<std::string_view> units = {});
  // An empty field means no number; returns as usualLength().
  std::optional<std::optional<double>> optionalNumber(const char* label, const std::optional<double>& value,
                                                      int decimals, float width,
                                                      std::initializer_list<std::string_view> units = {});
  std::optional<int> whole(const char* label, int value, float width);
  std::optional<std::optional<int>> usualWhole(const char* label, const std::optional<int>& value,
                                               float width);
  std::optional<std::uint64_t> count(const char* label, std::uint64_t value, float width);
  std::optional<std::string> text(const char* label, const std::string& value, float width);

 private:
  // The texts below the mouse: why a field's text was refused, or an example of texts it takes.
  struct Reasons {
    const char* wrong = nullptr;
    const char* usually = nullptr;
  };
  struct Refused {
    std::string text;
    std::string value;  // the field's value at that time
  };
  // `from`: reads a text as an optional value. Returns the value of a finished text.
  template <class From>
  auto read(const char* label, const std::string& shown, float width, const Reasons& reasons,
            const From& from);
  // Keeps a finished text in its field, marked as refused.
  void refuse(const char* label, const std::string& text, const std::string& value);
  // Shows the texts below the mouse of the field drawn last.
  void explain(const char* label, const Reasons& reasons) const;

  std::map<ImGuiID, std::string> typed_;
  std::map<ImGuiID, Refused> refused_;
};

// Sliders whose drag is a single step of Undo.
class Sliders {
 public:
  struct Slid {
    float value = 0;
    int stroke = 0;
  };
  // `round`: rounds to its multiples. `by_ratio`: equal ways on the slider are equal ratios of the value.
  std::optional<Slid> draw(const char* label, const Ui& ui, float value, float low, float high, float round,
                           const char* format, bool by_ratio = false);

 private:
  int stroke_ = 0;
};

// A colour's swatch that opens a picker; a drag in the picker is a single step of Undo.
class ColourFields {
 public:
  struct Picked {
    Colour colour;
    int stroke = 0;
  };
  std::optional<Picked> draw(const char* label, const Ui& ui, Colour colour);

 private:
  int stroke_ = 0;
};

// The colour as Dear ImGui takes it.
ImVec4 shownAs(Colour colour);

// Shows an explanation while the mouse rests on the widget before.
void help(const char* words);

// Draws a wrapped remark in the colour of less important letters.
void remark(const Ui& ui, const std::string& words);

// The button of the page's main action.
bool mainButton(const Ui& ui, const char* word);

// Draws a heading within a page.
void heading(const Ui& ui, const char* words);

// A list to choose a word from; returns the index of a newly chosen word. `unchosen`: shown while `chosen` is
// no index.
std::optional<int> choice(const char* label, const std::vector<std::string>& words, int chosen, float width,
                          const char* unchosen = "");

}  // namespace petalproof::window
