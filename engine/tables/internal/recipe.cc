#include "engine/tables/internal/recipe.h"

#include "engine/base/nearest_name.h"
#include "engine/plan/findings.h"
#include "engine/plan/shape_names.h"
#include "engine/tables/internal/bloom_guesses.h"
#include "engine/tables/internal/colour_names.h"
#include "engine/tables/internal/colours_from_text.h"
#include "engine/tables/internal/shape_guess.h"
#include "engine/tables/internal/table_values.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::tables {
namespace {

// The usual diameter as a share of the panel's shorter side; common practice, no source.
double shareOf(plan::Shape shape) {
  switch (shape) {
    case plan::Shape::dahlia: return 0.7;
    case plan::Shape::coneDahlia:
    case plan::Shape::petalBloom:
    case plan::Shape::peony:
    case plan::Shape::leafSpray:
    case plan::Shape::fern: return 0.5;
    case plan::Shape::rose:
    case plan::Shape::leaf: return 0.4;
    case plan::Shape::rosette:
    case plan::Shape::daisy:
    case plan::Shape::pompom: return 0.3;
    case plan::Shape::bud: return 0.18;
  }
  return 0.5;
}

std::optional<double> shareFrom(const std::string& name) {
  if (const auto whole = shareFromSizeWord(name)) return whole;
  for (const std::string& word : wordsOf(name))
    if (const auto share = shareFromSizeWord(word)) return share;
  const auto shape = shapeFromWords(name);
  return shape ? std::optional(shareOf(shape->shape)) : std::nullopt;
}

void guessColours(BloomRow& row, std::size_t number) {
  const auto palette = usualPalette();
  const auto* shape = std::get_if<plan::Shape>(&row.bloom.form);
  if (const auto named = colourWithin(row.bloom.name); named && *named != palette[0])
    row.bloom.colours = {*named};
  else if (shape && plan::takesWidth(*shape))
    row.bloom.colours = {usualGreen()};
  else
    row.bloom.colours = {palette[number % palette.size()], palette[(number + 1) % palette.size()]};
  std::vector<std::string> texts;
  for (const Colour colour : row.bloom.colours) texts.push_back(toHex(colour));
  row.guess("colour", joined(texts), "the recipe doesn't say");
}

BloomRow bloomOf(const RecipePart& part, double share, std::size_t number, const BloomContext& context) {
  BloomRow row;
  row.bloom.name = row.written_name = part.name;
  row.place = part.from;
  row.count = part.count;
  row.per_panel = true;
  const double side = std::min(context.panel.width.value, context.panel.height.value);
  const double mark = context.units == Units::inch ? 0.5 : context.units == Units::centimetre ? 1 : 10;
  row.bloom.diameter = {std::max(mark, std::round(share * side / mark) * mark)};
  row.guess("diameter", plan::numberText(row.bloom.diameter.value),
            fmt::format("{:.2f} of the panel's shorter side", row.bloom.diameter.value / side));
  guessForm(row, "", context.units);
  guessColours(row, number);
  return row;
}

std::vector<std::string> cutAt(std::string_view text, std::string_view separators) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (separators.find(c) != std::string_view::npos)
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

}  // namespace

std::vector<RecipePart> recipeFromText(const std::string& text, const Place& from, TableFindings& findings) {
  std::vector<RecipePart> recipe;
  for (const std::string& part : cutAt(text, ",;")) {
    const auto sides = cutAt(part, "=:");
    const auto count = sides.size() == 2 ? countFromText(sides[1]) : std::nullopt;
    const std::string name = joined(wordsOf(sides[0]));
    if (name.empty() || !count)
      findings.problem(from, fmt::format("{} is no number of a kind; write it as large=1,medium=3,small=8",
                                         plan::inQuotes(part)));
    else if (std::any_of(recipe.begin(), recipe.end(),
                         [&](const RecipePart& known) { return known.name == name; }))
      findings.problem(from, fmt::format("{} stands in it twice", plan::inQuotes(name)));
    else
      recipe.push_back({name, count->count, from});
  }
  return recipe;
}

std::vector<BloomRow> bloomsOfRecipe(const std::vector<RecipePart>& recipe, const BloomContext& context,
                                     TableFindings& findings) {
  std::vector<std::string> known{"extra large", "large", "medium", "small", "mini"};
  for (const auto shape : plan::shapeNames()) known.emplace_back(shape);
  std::vector<BloomRow> rows;
  for (const RecipePart& part : recipe) {
    if (const auto share = shareFrom(part.name))
      rows.push_back(bloomOf(part, *share, rows.size(), context));
    else
      findings.problem(part.from, fmt::format("{} is no kind of bloom known{}", plan::inQuotes(part.name),
                                              didYouMean(part.name, known).empty()
                                                  ? "; write large, medium, small, mini or a shape"
                                                  : didYouMean(part.name, known)));
  }
  return rows;
}

void applyRecipe(const std::vector<RecipePart>& recipe, std::vector<BloomRow>& rows,
                 TableFindings& findings) {
  std::vector<std::string> names;
  for (const BloomRow& row : rows) names.push_back(row.written_name);
  for (const RecipePart& part : recipe) {
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const BloomRow& candidate) {
      return joined(wordsOf(candidate.written_name)) == part.name;
    });
    if (row == rows.end()) {
      findings.problem(part.from, fmt::format("the table has no bloom called {}{}", plan::inQuotes(part.name),
                                              didYouMean(part.name, names)));
      continue;
    }
    row->count = part.count;
    row->per_panel = true;
  }
}

}  // namespace petalproof::tables
