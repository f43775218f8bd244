#include "engine/tables/internal/bloom_guesses.h"

#include "engine/base/length_text.h"
#include "engine/plan/findings.h"
#include "engine/plan/leaf_plate.h"
#include "engine/plan/shape_names.h"
#include "engine/tables/internal/colour_names.h"
#include "engine/tables/internal/shape_guess.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::tables {
namespace {

constexpr std::size_t assorted_colours = 5;  // as many as the usual palette has

struct Found {
  plan::Shape shape;
  std::string why;  // empty: no guess
};

Found findShape(const BloomRow& row, const std::string& shape_text, double diameter_mm) {
  const auto by_text = shapeFromWords(shape_text);
  if (by_text) return {by_text->shape, by_text->why.empty() ? "" : "for " + plan::inQuotes(shape_text)};
  if (const auto by_name = shapeFromWords(row.bloom.name)) return {by_name->shape, "by its name"};
  if (const auto near = shapeNearTo(shape_text)) return {*near, "for " + plan::inQuotes(shape_text)};
  return {shapeFromSize(diameter_mm), "by its size"};
}

}  // namespace

void guessForm(BloomRow& row, const std::string& shape_text, Units units) {
  plan::Bloom& bloom = row.bloom;
  const double diameter_mm = toMillimetres(bloom.diameter, units);
  if (std::holds_alternative<plan::MeshFile>(bloom.form)) return;
  const Found found = findShape(row, shape_text, diameter_mm);
  bloom.form = found.shape;
  if (!found.why.empty()) row.guess("shape", std::string(plan::nameOf(found.shape)), found.why);
  if (!bloom.depth) {
    bloom.depth = guessedDepth(found.shape, bloom.diameter, units);
    row.guess("depth", tapeText(toMillimetres(*bloom.depth, units), units),
              fmt::format("{:.2f} of its {}", bloom.depth->value / bloom.diameter.value,
                          plan::takesWidth(found.shape) ? "length" : "diameter"));
  }
  if (plan::takesWidth(found.shape) && !bloom.plate) {
    bloom.plate = plan::leafPlate(bloom.diameter, units);
    row.guess("plate", tapeText(toMillimetres(*bloom.plate, units), units), "the end of its stalk");
  }
  if (bloom.petals) return;
  bloom.petals = guessedPetals(found.shape, diameter_mm);
  if (bloom.petals)
    row.guess("petals", std::to_string(*bloom.petals),
              fmt::format("usual for a {}", plan::nameOf(found.shape)));
}

void chooseAssorted(std::vector<BloomRow>& rows) {
  std::vector<Colour> palette;
  for (const BloomRow& row : rows) {
    const auto* shape = std::get_if<plan::Shape>(&row.bloom.form);
    if (row.assorted || (shape && plan::takesWidth(*shape))) continue;
    for (const Colour colour : row.bloom.colours)
      if (std::find(palette.begin(), palette.end(), colour) == palette.end()) palette.push_back(colour);
  }
  const bool from_table = palette.size() >= 2;
  if (!from_table) palette = usualPalette();
  if (palette.size() > assorted_colours) palette.resize(assorted_colours);
  for (BloomRow& row : rows) {
    if (!row.assorted) continue;
    row.bloom.colours.insert(row.bloom.colours.end(), palette.begin(), palette.end());
    std::vector<std::string> texts;
    for (const Colour colour : row.bloom.colours) texts.push_back(toHex(colour));
    row.guess("colour", joined(texts),
              from_table ? "for \"assorted\": those of the other blooms" : "for \"assorted\"");
  }
}

}  // namespace petalproof::tables
