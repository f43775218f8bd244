#include "engine/tables/internal/grid_cell.h"

#include "engine/tables/internal/table_words.h"

#include <algorithm>
#include <array>
#include <string>

namespace petalproof::tables {
namespace {

constexpr std::string_view in_full = "upside down";

// Ways to write "upside down". A longer way stands before a way that it ends in.
constexpr std::array<std::string_view, 21> ways{
    in_full,      "upside-down", "upsidedown", "up side down", "upside dn.", "upside dn", "turned around",
    "turned 180", "rotated 180", "rotated",    "rot 180",      "180 deg",    "180\u00b0", "180",
    "u/d",        "u.d.",        "inverted",   "inv.",         "inv",        "flipped",   "ud",
};

bool partOfWord(char c) {
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (static_cast<unsigned char>(c) & 0x80U);
}

constexpr std::string_view between_marks = " -:,;/_";

std::string_view withoutEnd(std::string_view text) {
  while (!text.empty() &&
         (text.ends_with('(') || text.ends_with('[') || between_marks.find(text.back()) != text.npos))
    text.remove_suffix(1);
  return text;
}

std::string_view withoutStart(std::string_view text) {
  while (!text.empty() && between_marks.find(text.front()) != text.npos) text.remove_prefix(1);
  return text;
}

// The piece of a cell's text that says "upside down", at an end of the text; from == npos: there is none.
struct Cut {
  std::size_t from = std::string_view::npos;
  std::size_t length = 0;
};

Cut findWay(std::string_view lower, std::string_view way) {
  const std::string_view bare = lower.substr(0, lower.find_last_not_of(" )]") + 1);
  if (bare.ends_with(way) && bare.size() > way.size() && !partOfWord(bare[bare.size() - way.size() - 1]))
    return {bare.size() - way.size(), lower.size() - (bare.size() - way.size())};
  const bool at_start = lower.starts_with(way) && lower.size() > way.size() && !partOfWord(lower[way.size()]);
  return at_start ? Cut{0, way.size()} : Cut{};
}

bool meansEmpty(std::string_view lower) {
  constexpr std::array<std::string_view, 11> words{"",      "-",        "\u2013", "\u2014",  "none", "empty",
                                                   "blank", "no panel", "n/a",    "nothing", "--"};
  return std::find(words.begin(), words.end(), lower) != words.end();
}

}  // namespace

GridCellText gridCellFrom(std::string_view text) {
  const std::string lower = lowerCase(text);
  if (meansEmpty(lower)) return {};
  for (const std::string_view way : ways) {
    const Cut cut = findWay(lower, way);
    if (cut.from == std::string_view::npos) continue;
    const auto name =
        cut.from == 0 ? withoutStart(text.substr(cut.length)) : withoutEnd(text.substr(0, cut.from));
    if (!name.empty()) return {{std::string(name), true}, way != in_full};
  }
  for (const std::string_view arrow : {"\u2193", "\u21bb", "\u21ba"})
    if (text.ends_with(arrow) && text.size() > arrow.size())
      return {{std::string(withoutEnd(text.substr(0, text.size() - arrow.size()))), true}, true};
  return {{std::string(text), false}, false};
}

}  // namespace petalproof::tables
