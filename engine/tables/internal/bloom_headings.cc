#include "engine/tables/internal/bloom_headings.h"

#include "engine/base/nearest_name.h"
#include "engine/tables/internal/table_words.h"

#include <algorithm>
#include <array>
#include <vector>

namespace petalproof::tables {
namespace {

constexpr std::size_t longest_heading = 60;  // bytes; longer cells are sentences, not headings

struct Word {
  std::string_view text;  // in singular; "pieces" and "pcs" before that
  Meaning meaning;
};

// A heading of several known words means the first of them in this order: "flower size" is a size,
// "number of sheets" sheets.
constexpr std::array words{
    Word{"placed", Meaning::unread},      Word{"price", Meaning::unread},
    Word{"cost", Meaning::unread},        Word{"note", Meaning::unread},
    Word{"remark", Meaning::unread},      Word{"comment", Meaning::unread},
    Word{"colour", Meaning::colour},      Word{"color", Meaning::colour},
    Word{"shade", Meaning::colour},       Word{"hue", Meaning::colour},
    Word{"palette", Meaning::colour},     Word{"cardstock", Meaning::card},
    Word{"card stock", Meaning::card},    Word{"paper stock", Meaning::card},
    Word{"sheet", Meaning::sheets},       Word{"sht", Meaning::sheets},
    Word{"petal", Meaning::petals},       Word{"layer", Meaning::layers},
    Word{"ring", Meaning::layers},        Word{"strip", Meaning::strips},
    Word{"adhesive", Meaning::strips},    Word{"minute", Meaning::minutes},
    Word{"min", Meaning::minutes},        Word{"mins", Meaning::minutes},
    Word{"time", Meaning::minutes},       Word{"plate", Meaning::plate},
    Word{"base", Meaning::plate},         Word{"depth", Meaning::depth},
    Word{"width", Meaning::width},        Word{"size", Meaning::size},
    Word{"diameter", Meaning::size},      Word{"dia", Meaning::size},
    Word{"diam", Meaning::size},          Word{"\u00f8", Meaning::size},
    Word{"\u00d8", Meaning::size},        Word{"length", Meaning::size},
    Word{"across", Meaning::size},        Word{"measurement", Meaning::size},
    Word{"dimension", Meaning::size},     Word{"stock", Meaning::stock},
    Word{"spare", Meaning::stock},        Word{"on hand", Meaning::stock},
    Word{"filler", Meaning::filler},      Word{"fill", Meaning::filler},
    Word{"layout", Meaning::layout},      Word{"panel", Meaning::layout},
    Word{"arrangement", Meaning::layout}, Word{"card", Meaning::card},
    Word{"paper", Meaning::card},         Word{"mesh", Meaning::mesh},
    Word{"obj", Meaning::mesh},           Word{"qty", Meaning::count},
    Word{"quantity", Meaning::count},     Word{"count", Meaning::count},
    Word{"number", Meaning::count},       Word{"no", Meaning::count},
    Word{"nos", Meaning::count},          Word{"nr", Meaning::count},
    Word{"how many", Meaning::count},     Word{"amount", Meaning::count},
    Word{"pieces", Meaning::count},       Word{"pcs", Meaning::count},
    Word{"need", Meaning::count},         Word{"needed", Meaning::count},
    Word{"on wall", Meaning::count},      Word{"on the wall", Meaning::count},
    Word{"shape", Meaning::shape},        Word{"type", Meaning::shape},
    Word{"style", Meaning::shape},        Word{"form", Meaning::shape},
    Word{"label", Meaning::label},        Word{"description", Meaning::label},
    Word{"flower", Meaning::name},        Word{"bloom", Meaning::name},
    Word{"name", Meaning::name},          Word{"item", Meaning::name},
    Word{"kind", Meaning::name},          Word{"piece", Meaning::name},
    Word{"element", Meaning::name},       Word{"variety", Meaning::name},
    Word{"total", Meaning::count},        Word{"col", Meaning::colour},
    Word{"unit", Meaning::unit},          Word{"uom", Meaning::unit},
};

// Takes the phrase out of the words; false if the words don't have it.
bool takeOut(std::vector<std::string>& from, std::vector<std::string_view> phrase) {
  const auto found = std::search(from.begin(), from.end(), phrase.begin(), phrase.end());
  if (found == from.end()) return false;
  from.erase(found, found + static_cast<std::ptrdiff_t>(phrase.size()));
  return true;
}

bool takeOutAny(std::vector<std::string>& from, const std::vector<std::vector<std::string_view>>& phrases) {
  return std::any_of(phrases.begin(), phrases.end(),
                     [&](const auto& phrase) { return takeOut(from, phrase); });
}

std::optional<Units> unitsIn(std::string_view text, const std::vector<std::string>& heading_words) {
  const auto has = [&](std::string_view word) {
    return std::find(heading_words.begin(), heading_words.end(), word) != heading_words.end();
  };
  if (has("cm") || has("centimetre") || has("centimeter")) return Units::centimetre;
  if (has("mm") || has("millimetre") || has("millimeter")) return Units::millimetre;
  const bool mark = text.find('"') != std::string_view::npos || text.find("\u2033") != std::string_view::npos;
  return has("in") || has("inch") || mark ? std::optional(Units::inch) : std::nullopt;
}

std::optional<Meaning> meaningOf(const std::vector<std::string>& as_written) {
  std::vector<std::string> single = as_written;
  for (std::string& word : single)
    if (word != "pieces") word = singular(word);
  for (const Word& word : words)
    if (hasPhrase(single, word.text) || hasPhrase(as_written, word.text)) return word.meaning;
  return std::nullopt;
}

// Understands a misspelt word: "diamter", "quanity". Short words are left out: too many are near them.
std::optional<Heading> misspelt(const std::vector<std::string>& as_written) {
  constexpr std::size_t shortest_known = 5;
  constexpr std::size_t shortest_written = 4;
  std::vector<std::string> known;
  for (const Word& word : words)
    if (word.text.size() >= shortest_known) known.emplace_back(word.text);
  for (const std::string& written : as_written) {
    const auto nearest =
        written.size() < shortest_written ? std::nullopt : nearestName(singular(written), known);
    if (!nearest) continue;
    Heading heading;
    heading.meaning = *meaningOf({*nearest});
    heading.meant = *nearest;
    return heading;
  }
  return std::nullopt;
}

}  // namespace

std::optional<Heading> headingFrom(std::string_view text, Slips slips) {
  if (text.empty() || text.size() > longest_heading) return std::nullopt;
  std::vector<std::string> heading_words = wordsOf(text);
  const bool per_panel = takeOutAny(heading_words, {{"per", "panel"},
                                                    {"each", "panel"},
                                                    {"a", "panel"},
                                                    {"per", "layout"},
                                                    {"each", "layout"},
                                                    {"per", "board"}});
  const auto meaning = text == "#" ? std::optional(Meaning::count) : meaningOf(heading_words);
  auto heading = meaning                    ? std::optional(Heading{*meaning, false, false, std::nullopt, {}})
                 : slips == Slips::forgiven ? misspelt(heading_words)
                                            : std::nullopt;
  if (!heading && per_panel) heading = Heading{Meaning::count, false, false, std::nullopt, {}};
  if (!heading) return std::nullopt;
  heading->per_panel = per_panel;
  heading->in_all = takeOutAny(heading_words, {{"total"}, {"totals"}, {"in", "all"}, {"altogether"}});
  heading->units = unitsIn(text, heading_words);
  return heading;
}

}  // namespace petalproof::tables
