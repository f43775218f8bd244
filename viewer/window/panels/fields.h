#pragma once
// Fields to type in. What is being typed stays here until it is finished: with Enter, or by going elsewhere.
// Escape leaves the old value. What can't be read stays in its field, in another colour, with the reason
// below the mouse, until it is put right or the value changes. Fields of different things have different ids
// (ImGui::PushID), so that what was refused of one isn't shown of another; another plan begins with other
// Fields.

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
  // A value when a new one was finished; its label stands right of the field. Lengths take fractions and
  // units of their own ("7 1/4", "60 cm").
  std::optional<Length> length(const char* label, Length value, Units units, float width);
  // Empty: as usual. An outer value when something new was finished.
  std::optional<std::optional<Length>> usualLength(
      const char* label, const std::optional<Length>& value, Units units, float width,
      const char* words = "Left empty, as is usual for the shape");
  // As app::numberFromText with these units.
  std::optional<double> number(const char* label, double value, int decimals, float width,
                               std::initializer_list<std::string_view> units = {});
  // Empty: nothing. As usualLength.
  std::optional<std::optional<double>> optionalNumber(const char* label, const std::optional<double>& value,
                                                      int decimals, float width,
                                                      std::initializer_list<std::string_view> units = {});
  std::optional<int> whole(const char* label, int value, float width);
  std::optional<std::optional<int>> usualWhole(const char* label, const std::optional<int>& value,
                                               float width);
  std::optional<std::uint64_t> count(const char* label, std::uint64_t value, float width);
  std::optional<std::string> text(const char* label, const std::string& value, float width);

 private:
  // Said of a field below the mouse: why its text was refused, else what may be typed.
  struct Reasons {
    const char* wrong = nullptr;
    const char* usually = nullptr;
  };
  struct Refused {
    std::string text;
    std::string value;  // that it was to replace
  };
  // `from`: an optional value of a text. What it makes of the one that was finished.
  template <class From>
  auto read(const char* label, const std::string& shown, float width, const Reasons& reasons,
            const From& from);
  // What was finished stays there, refused.
  void refuse(const char* label, const std::string& text, const std::string& value);
  // Of the field drawn last.
  void explain(const char* label, const Reasons& reasons) const;

  std::map<ImGuiID, std::string> typed_;
  std::map<ImGuiID, Refused> refused_;
};

// A slider whose drag is one step: the value, and the stroke that it belongs to.
class Sliders {
 public:
  struct Slid {
    float value = 0;
    int stroke = 0;
  };
  // `round`: to multiples of it. With `by_ratio` the slider runs by ratio, not by difference.
  std::optional<Slid> draw(const char* label, const Ui& ui, float value, float low, float high, float round,
                           const char* format, bool by_ratio = false);

 private:
  int stroke_ = 0;
};

// A colour's swatch that opens a picker; what is picked in one stroke is one step.
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

ImVec4 shownAs(Colour colour);

// Words that say more while the mouse rests on the widget before.
void help(const char* words);

// Words in the colour of what matters less, wrapped.
void remark(const Ui& ui, const std::string& words);

// The button of what this page is for.
bool mainButton(const Ui& ui, const char* word);

// A heading within a page.
void heading(const Ui& ui, const char* words);

// Picks one of some words; the number of another than the chosen one. `unchosen` stands there for none.
std::optional<int> choice(const char* label, const std::vector<std::string>& words, int chosen, float width,
                          const char* unchosen = "");

}  // namespace petalproof::window
