#include "engine/tables/internal/colours_from_text.h"

#include "engine/base/nearest_name.h"
#include "engine/tables/internal/colour_names.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::tables {
namespace {

constexpr std::size_t longest_cell = 400;  // bytes; longer cells are remarks
constexpr std::size_t most_words = 8;      // in a colour's name; the search tries every phrase of them

struct Shade {
  Colour colour;
  bool exact = false;  // the name has an exact value
};

Colour mixed(Colour a, Colour b, double share_of_b) {
  const auto channel = [&](std::uint8_t from, std::uint8_t to) {
    return static_cast<std::uint8_t>(std::lround(from * (1 - share_of_b) + to * share_of_b));
  };
  return {channel(a.red, b.red), channel(a.green, b.green), channel(a.blue, b.blue)};
}

constexpr Colour white{255, 255, 255};
constexpr Colour black{0, 0, 0};
constexpr Colour grey{150, 145, 140};
// How far words such as "light" change a colour towards white, black or grey: by eye, no source.
constexpr double lighter = 0.45;
constexpr double darker = 0.35;
constexpr double dustier = 0.4;

std::optional<Colour> changedBy(std::string_view word, Colour colour) {
  if (word == "light" || word == "pale" || word == "soft" || word == "pastel")
    return mixed(colour, white, lighter);
  if (word == "dark" || word == "deep") return mixed(colour, black, darker);
  if (word == "dusty" || word == "muted" || word == "antique") return mixed(colour, grey, dustier);
  if (word == "bright" || word == "hot" || word == "vivid" || word == "medium") return colour;
  return std::nullopt;
}

std::optional<Colour> hex(std::string_view text) {
  if (text.starts_with('#')) return colourFromHex(text);
  const bool digits = std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
  return text.size() == 6 && digits ? colourFromHex(fmt::format("#{}", text)) : std::nullopt;
}

std::string phrase(const std::vector<std::string>& words, std::size_t from, std::size_t to) {
  return joined(
      {words.begin() + static_cast<std::ptrdiff_t>(from), words.begin() + static_cast<std::ptrdiff_t>(to)});
}

std::optional<Shade> named(const std::string& name) {
  if (const auto colour = cssColour(name)) return Shade{*colour, true};
  if (const auto colour = cardColour(name)) return Shade{*colour, false};
  return std::nullopt;
}

// The longest colour name among the words, the last of equally long names, changed by a "dark" or the like
// before it.
std::optional<Shade> within(const std::vector<std::string>& words) {
  if (words.size() > most_words) return std::nullopt;
  for (std::size_t length = words.size(); length > 0; --length) {
    for (std::size_t end = words.size(); end >= length; --end) {
      const auto found = named(phrase(words, end - length, end));
      if (!found) continue;
      const bool whole = length == words.size();
      const auto changed = end > length ? changedBy(words[end - length - 1], found->colour) : std::nullopt;
      return Shade{changed.value_or(found->colour), found->exact && whole};
    }
  }
  return std::nullopt;
}

bool meansAssorted(const std::string& word) {
  constexpr std::array<std::string_view, 12> words{
      "assorted",    "assortment", "mixed",         "mix",          "various", "multi",
      "multicolour", "multicolor", "multicoloured", "multicolored", "rainbow", "any"};
  return std::find(words.begin(), words.end(), word) != words.end();
}

// The length of " and " or the like at the front of the text.
std::size_t betweenWord(std::string_view text) {
  for (const std::string_view word : {" and ", " or ", " with "})
    if (text.starts_with(word)) return word.size();
  return 0;
}

std::vector<std::string> parts(std::string_view text) {
  std::string_view left = text;
  std::vector<std::string> found(1);
  while (!left.empty()) {
    const std::size_t word = betweenWord(left);
    const char c = word > 0 ? ',' : left.front();
    left.remove_prefix(word > 0 ? word : 1);
    if (c == ',' || c == ';' || c == '/' || c == '&' || c == '+' || c == '|')
      found.emplace_back();
    else
      found.back() += c;
  }
  return found;
}

class ColourReader {
 public:
  void read(const std::string& part) {
    std::vector<std::string> words = singularColours(wordsOf(part));
    const std::string_view bare = trimmed(part);
    if (words.empty()) return;
    if (const auto colour = hex(bare)) return add(*colour);
    const auto assorted = std::find_if(words.begin(), words.end(), meansAssorted);
    if (assorted == words.end()) return readShade(part, words);
    words.erase(assorted);
    if (const auto base = within(words)) {
      // "Assorted pinks": the colour itself, two lighter shades and a darker shade. By eye, no source.
      for (const double white_share : {0.0, 0.3, 0.55}) add(mixed(base->colour, white, white_share));
      add(mixed(base->colour, black, 0.25));
    } else {
      found_.text.assorted = true;
    }
    guessed(bare);
  }

  ColourReading take() { return std::move(found_); }

 private:
  static std::string_view trimmed(std::string_view text) {
    while (text.starts_with(' ')) text.remove_prefix(1);
    while (text.ends_with(' ')) text.remove_suffix(1);
    return text;
  }

  // Makes plurals singular ("pinks" is pink) except in known names ("moss").
  static std::vector<std::string> singularColours(std::vector<std::string> words) {
    for (std::string& word : words)
      if (!named(word)) word = singular(word);
    return words;
  }

  void readShade(const std::string& part, const std::vector<std::string>& words) {
    const auto shade = within(words);
    if (!shade) {
      const std::string name(trimmed(part));
      found_.unknown.push_back({name, didYouMean(name, knownColourNames())});
      return;
    }
    add(shade->colour);
    if (!shade->exact) guessed(trimmed(part));
  }

  void add(Colour colour) {
    auto& colours = found_.text.colours;
    if (std::find(colours.begin(), colours.end(), colour) == colours.end()) colours.push_back(colour);
  }

  void guessed(std::string_view name) {
    std::string& names = found_.text.guessed;
    if (!names.empty()) names += ", ";
    names += name;
  }

  ColourReading found_;
};

}  // namespace

ColourReading coloursFromText(std::string_view text) {
  ColourReader reader;
  if (text.size() > longest_cell) return {{}, {{std::string(text), ""}}};
  for (const std::string& part : parts(lowerCase(text))) reader.read(part);
  return reader.take();
}

std::optional<Colour> colourWithin(std::string_view text) {
  const auto shade = within(wordsOf(text));
  return shade ? std::optional(shade->colour) : std::nullopt;
}

}  // namespace petalproof::tables
