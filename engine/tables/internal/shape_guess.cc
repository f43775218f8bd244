#include "engine/tables/internal/shape_guess.h"

#include "engine/base/nearest_name.h"
#include "engine/plan/shape_names.h"
#include "engine/tables/internal/table_words.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::tables {
namespace {

struct Known {
  std::string_view words;  // in singular
  plan::Shape shape;
};

// The first entry that fits counts: pairs of words before single words ("cone dahlia" before "dahlia"), then
// greenery and words such as rolled or pleated, which tell more about the shape than a flower's name.
constexpr std::array known{std::to_array<Known>({
    {"cone dahlia", plan::Shape::coneDahlia},
    {"dahlia cone", plan::Shape::coneDahlia},
    {"petal bloom", plan::Shape::petalBloom},
    {"leaf spray", plan::Shape::leafSpray},
    {"rose bud", plan::Shape::bud},
    {"rolled rose", plan::Shape::bud},
    {"mini rose", plan::Shape::bud},
    {"spiral rose", plan::Shape::bud},
    {"pom pom", plan::Shape::pompom},
    {"cherry blossom", plan::Shape::petalBloom},
    {"fern", plan::Shape::fern},
    {"bracken", plan::Shape::fern},
    {"eucalyptus", plan::Shape::leafSpray},
    {"spray", plan::Shape::leafSpray},
    {"sprig", plan::Shape::leafSpray},
    {"branch", plan::Shape::leafSpray},
    {"olive branch", plan::Shape::leafSpray},
    {"vine", plan::Shape::leafSpray},
    {"garland", plan::Shape::leafSpray},
    {"greenery", plan::Shape::leafSpray},
    {"foliage", plan::Shape::leafSpray},
    {"willow", plan::Shape::leafSpray},
    {"leaf", plan::Shape::leaf},
    {"palm", plan::Shape::leaf},
    {"monstera", plan::Shape::leaf},
    {"rosebud", plan::Shape::bud},
    {"bud", plan::Shape::bud},
    {"rolled", plan::Shape::bud},
    {"spiral", plan::Shape::bud},
    {"tulip", plan::Shape::bud},
    {"pompom", plan::Shape::pompom},
    {"pompon", plan::Shape::pompom},
    {"pom", plan::Shape::pompom},
    {"puff", plan::Shape::pompom},
    {"tissue", plan::Shape::pompom},
    {"hydrangea", plan::Shape::pompom},
    {"carnation", plan::Shape::pompom},
    {"rosette", plan::Shape::rosette},
    {"fan", plan::Shape::rosette},
    {"pinwheel", plan::Shape::rosette},
    {"medallion", plan::Shape::rosette},
    {"pleated", plan::Shape::rosette},
    {"accordion", plan::Shape::rosette},
    {"cone", plan::Shape::coneDahlia},
    {"dahlia", plan::Shape::dahlia},
    {"chrysanthemum", plan::Shape::dahlia},
    {"mum", plan::Shape::dahlia},
    {"zinnia", plan::Shape::dahlia},
    {"peony", plan::Shape::peony},
    {"camellia", plan::Shape::peony},
    {"rose", plan::Shape::rose},
    {"ranunculus", plan::Shape::rose},
    {"daisy", plan::Shape::daisy},
    {"gerbera", plan::Shape::daisy},
    {"sunflower", plan::Shape::daisy},
    {"aster", plan::Shape::daisy},
    {"anemone", plan::Shape::petalBloom},
    {"poppy", plan::Shape::petalBloom},
    {"magnolia", plan::Shape::petalBloom},
    {"lotus", plan::Shape::petalBloom},
    {"lily", plan::Shape::petalBloom},
    {"hibiscus", plan::Shape::petalBloom},
    {"blossom", plan::Shape::petalBloom},
    {"dogwood", plan::Shape::petalBloom},
})};

// Usual depth as a share of the diameter, and usual petals of a ring; a smaller bloom has the larger share of
// depth. Common practice, no source.
struct Usual {
  double depth_min;
  double depth_max;
  int petals_min;  // 0: none to count
  int petals_max;
};

Usual usual(plan::Shape shape) {
  switch (shape) {
    case plan::Shape::dahlia: return {0.22, 0.35, 8, 16};
    case plan::Shape::coneDahlia: return {0.18, 0.28, 12, 18};
    case plan::Shape::petalBloom: return {0.22, 0.32, 5, 9};
    case plan::Shape::peony: return {0.35, 0.5, 5, 7};
    case plan::Shape::rose: return {0.4, 0.55, 0, 0};
    case plan::Shape::bud: return {0.45, 0.6, 0, 0};
    case plan::Shape::rosette: return {0.05, 0.1, 24, 48};
    case plan::Shape::daisy: return {0.1, 0.18, 10, 16};
    case plan::Shape::pompom: return {0.45, 0.55, 0, 0};
    case plan::Shape::leaf: return {0.08, 0.15, 0, 0};
    case plan::Shape::leafSpray: return {0.08, 0.15, 5, 9};
    case plan::Shape::fern: return {0.05, 0.1, 10, 16};
  }
  return {0.22, 0.32, 5, 9};
}

// 0 for a small bloom (about 4 in), 1 for a large bloom (about 20 in).
double largeness(double diameter_mm) {
  constexpr double small_mm = 100;
  constexpr double large_mm = 500;
  return std::clamp((diameter_mm - small_mm) / (large_mm - small_mm), 0.0, 1.0);
}

}  // namespace

std::optional<ShapeGuess> shapeFromWords(std::string_view text) {
  const auto words = singularWordsOf(text);
  if (const auto shape = plan::shapeFromName(joined(words))) return ShapeGuess{*shape, ""};
  for (const Known& entry : known)
    if (hasPhrase(words, entry.words)) return ShapeGuess{entry.shape, "by its name"};
  if (joined(words) == "green") return ShapeGuess{plan::Shape::leafSpray, "by its name"};  // "Greens"
  return std::nullopt;
}

std::optional<plan::Shape> shapeNearTo(std::string_view text) {
  constexpr std::size_t shortest_word = 4;  // shorter words are near to each other by chance
  std::vector<std::string> names;
  for (const Known& entry : known)
    if (entry.words.size() >= shortest_word) names.emplace_back(entry.words);
  const auto nearest =
      text.size() < shortest_word ? std::nullopt : nearestName(joined(singularWordsOf(text)), names);
  const auto guess = nearest ? shapeFromWords(*nearest) : std::nullopt;
  return guess ? std::optional(guess->shape) : std::nullopt;
}

plan::Shape shapeFromSize(double diameter_mm) {
  // Limits about 13, 8 and 4 in: common practice, no source.
  if (diameter_mm >= 330) return plan::Shape::dahlia;
  if (diameter_mm >= 200) return plan::Shape::petalBloom;
  if (diameter_mm >= 110) return plan::Shape::rose;
  return plan::Shape::bud;
}

Length guessedDepth(plan::Shape shape, Length diameter, Units units) {
  const Usual range = usual(shape);
  const double large = largeness(toMillimetres(diameter, units));
  const double share = range.depth_max + (range.depth_min - range.depth_max) * large;
  constexpr double finest_marks = 10'000;  // a unit; finer marks than any tape's
  for (double marks = tapeMarksPer(units); marks < finest_marks; marks *= 2) {
    const double depth = std::round(share * diameter.value * marks) / marks;
    if (depth >= range.depth_min * diameter.value && depth <= range.depth_max * diameter.value)
      return {depth};
  }
  return {share * diameter.value};
}

std::optional<int> guessedPetals(plan::Shape shape, double diameter_mm) {
  const Usual range = usual(shape);
  if (range.petals_min == 0) return std::nullopt;
  return static_cast<int>(
      std::lround(range.petals_min + (range.petals_max - range.petals_min) * largeness(diameter_mm)));
}

std::optional<double> shareFromSizeWord(std::string_view text) {
  struct SizeWord {
    std::string_view word;
    double share;
  };
  // Of the panel's shorter side; common practice, no source.
  constexpr std::array sizes{std::to_array<SizeWord>({
      {"xl", 0.85},
      {"extra large", 0.85},
      {"jumbo", 0.85},
      {"giant", 0.85},
      {"statement", 0.85},
      {"large", 0.7},
      {"l", 0.7},
      {"big", 0.7},
      {"medium", 0.5},
      {"m", 0.5},
      {"med", 0.5},
      {"mid", 0.5},
      {"small", 0.3},
      {"s", 0.3},
      {"little", 0.3},
      {"mini", 0.18},
      {"xs", 0.18},
      {"tiny", 0.18},
      {"extra small", 0.18},
  })};
  const std::string words = joined(wordsOf(text));
  for (const SizeWord& size : sizes)
    if (size.word == words) return size.share;
  return std::nullopt;
}

}  // namespace petalproof::tables
