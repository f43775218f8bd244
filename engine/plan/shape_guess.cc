#include "engine/plan/internal/shape_guess.h"

#include "engine/base/nearest_name.h"
#include "engine/plan/internal/table_words.h"
#include "engine/plan/shape_names.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof {
namespace {

struct Known {
  std::string_view words;  // in singular
  Shape shape;
};

// Two words before one: "cone dahlia" before "dahlia". Then greenery and what is rolled, pleated or
// bunched, which tell more about the shape than a flower's name.
constexpr std::array known{std::to_array<Known>({
    {"cone dahlia", Shape::coneDahlia},
    {"dahlia cone", Shape::coneDahlia},
    {"petal bloom", Shape::petalBloom},
    {"leaf spray", Shape::leafSpray},
    {"rose bud", Shape::bud},
    {"rolled rose", Shape::bud},
    {"mini rose", Shape::bud},
    {"spiral rose", Shape::bud},
    {"pom pom", Shape::pompom},
    {"cherry blossom", Shape::petalBloom},
    {"fern", Shape::fern},
    {"bracken", Shape::fern},
    {"eucalyptus", Shape::leafSpray},
    {"spray", Shape::leafSpray},
    {"sprig", Shape::leafSpray},
    {"branch", Shape::leafSpray},
    {"olive branch", Shape::leafSpray},
    {"vine", Shape::leafSpray},
    {"garland", Shape::leafSpray},
    {"greenery", Shape::leafSpray},
    {"foliage", Shape::leafSpray},
    {"willow", Shape::leafSpray},
    {"leaf", Shape::leaf},
    {"palm", Shape::leaf},
    {"monstera", Shape::leaf},
    {"rosebud", Shape::bud},
    {"bud", Shape::bud},
    {"rolled", Shape::bud},
    {"spiral", Shape::bud},
    {"tulip", Shape::bud},
    {"pompom", Shape::pompom},
    {"pompon", Shape::pompom},
    {"pom", Shape::pompom},
    {"puff", Shape::pompom},
    {"tissue", Shape::pompom},
    {"hydrangea", Shape::pompom},
    {"carnation", Shape::pompom},
    {"rosette", Shape::rosette},
    {"fan", Shape::rosette},
    {"pinwheel", Shape::rosette},
    {"medallion", Shape::rosette},
    {"pleated", Shape::rosette},
    {"accordion", Shape::rosette},
    {"cone", Shape::coneDahlia},
    {"dahlia", Shape::dahlia},
    {"chrysanthemum", Shape::dahlia},
    {"mum", Shape::dahlia},
    {"zinnia", Shape::dahlia},
    {"peony", Shape::peony},
    {"camellia", Shape::peony},
    {"rose", Shape::rose},
    {"ranunculus", Shape::rose},
    {"daisy", Shape::daisy},
    {"gerbera", Shape::daisy},
    {"sunflower", Shape::daisy},
    {"aster", Shape::daisy},
    {"anemone", Shape::petalBloom},
    {"poppy", Shape::petalBloom},
    {"magnolia", Shape::petalBloom},
    {"lotus", Shape::petalBloom},
    {"lily", Shape::petalBloom},
    {"hibiscus", Shape::petalBloom},
    {"blossom", Shape::petalBloom},
    {"dogwood", Shape::petalBloom},
})};

// Depth as a share of the diameter, and petals of a ring; the smaller bloom has the larger share.
struct Usual {
  double depth_min;
  double depth_max;
  int petals_min;  // 0: none to count
  int petals_max;
};

Usual usual(Shape shape) {
  switch (shape) {
    case Shape::dahlia: return {0.22, 0.35, 8, 16};
    case Shape::coneDahlia: return {0.18, 0.28, 12, 18};
    case Shape::petalBloom: return {0.22, 0.32, 5, 9};
    case Shape::peony: return {0.35, 0.5, 5, 7};
    case Shape::rose: return {0.4, 0.55, 0, 0};
    case Shape::bud: return {0.45, 0.6, 0, 0};
    case Shape::rosette: return {0.05, 0.1, 24, 48};
    case Shape::daisy: return {0.1, 0.18, 10, 16};
    case Shape::pompom: return {0.45, 0.55, 0, 0};
    case Shape::leaf: return {0.08, 0.15, 0, 0};
    case Shape::leafSpray: return {0.08, 0.15, 5, 9};
    case Shape::fern: return {0.05, 0.1, 10, 16};
  }
  return {0.22, 0.32, 5, 9};
}

// 0 for a small bloom (4 in), 1 for a large one (20 in).
double largeness(double diameter_mm) { return std::clamp((diameter_mm - 100) / 400, 0.0, 1.0); }

}  // namespace

std::optional<ShapeGuess> shapeFromWords(std::string_view text) {
  const auto words = singularWordsOf(text);
  if (const auto shape = shapeFromName(joined(words))) return ShapeGuess{*shape, ""};
  for (const Known& each : known)
    if (hasPhrase(words, each.words)) return ShapeGuess{each.shape, "by its name"};
  if (joined(words) == "green") return ShapeGuess{Shape::leafSpray, "by its name"};  // "Greens"
  return std::nullopt;
}

std::optional<Shape> shapeNearTo(std::string_view text) {
  std::vector<std::string> names;
  for (const Known& each : known)
    if (each.words.size() >= 4) names.emplace_back(each.words);
  const auto nearest = text.size() < 4 ? std::nullopt : nearestName(joined(singularWordsOf(text)), names);
  const auto guess = nearest ? shapeFromWords(*nearest) : std::nullopt;
  return guess ? std::optional(guess->shape) : std::nullopt;
}

Shape shapeFromSize(double diameter_mm) {
  if (diameter_mm >= 330) return Shape::dahlia;
  if (diameter_mm >= 200) return Shape::petalBloom;
  if (diameter_mm >= 110) return Shape::rose;
  return Shape::bud;
}

Length guessedDepth(Shape shape, Length diameter, Units units) {
  const Usual range = usual(shape);
  const double large = largeness(toMillimetres(diameter, units));
  const double share = range.depth_max + (range.depth_min - range.depth_max) * large;
  for (double marks = tapeMarksPer(units); marks < 10'000; marks *= 2) {
    const double depth = std::round(share * diameter.value * marks) / marks;
    if (depth >= range.depth_min * diameter.value && depth <= range.depth_max * diameter.value)
      return {depth};
  }
  return {share * diameter.value};
}

std::optional<int> guessedPetals(Shape shape, double diameter_mm) {
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

}  // namespace petalproof
