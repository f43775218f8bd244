#include "tests/fill/random_plans.h"

#include "tests/cover/cover_instances.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <algorithm>
#include <string>
#include <vector>

namespace petalproof::testing {
namespace {

struct Kind {
  const char* name;
  const char* keys;
  double diameter_mm;
};

constexpr Kind hung_kinds[] = {
    {"great", "shape = \"dahlia\"\ndiameter = 350\ncolour = \"#b5382a\"", 350},
    {"rose", "shape = \"rose\"\ndiameter = 180\ncolour = [\"#e8cfc0\", \"#d9a79b\"]", 180},
    {"peony", "shape = \"peony\"\ndiameter = 130\ncolour = \"#f0e6d2\"", 130},
    {"sprig", "shape = \"leaf\"\ndiameter = 150\ncolour = \"#56684a\"", 150},
    {"button", "shape = \"pompom\"\ndiameter = 60\ncolour = \"#e8a23d\"", 60},
};

std::string filler(const char* name, const char* shape, double diameter, const char* colour,
                   std::uint32_t stock) {
  std::string text = fmt::format(
      "[[bloom]]\nname = \"{}\"\nshape = \"{}\"\ndiameter = {}\ncolour = {}\nsheets = {}\n"
      "minutes = 10\nfiller = true\n",
      name, shape, diameter, colour, diameter / 100);
  return stock == 0 ? text : text + fmt::format("stock = {}\n", stock);
}

// Plates side by side; petals may overlap.
std::string layout(const char* name, double width, double height, int tries, CoverRandom& random) {
  struct Placed {
    glm::dvec2 at;
    double radius;
  };
  std::vector<Placed> placed;
  std::string text = fmt::format("[[layout]]\nname = \"{}\"\nblooms = [\n", name);
  constexpr int large = 9;  // tries with the larger kinds, before the small ones
  for (int attempt = 0; attempt < tries; ++attempt) {
    const Kind& kind = hung_kinds[attempt == 0      ? random.below(2)
                                  : attempt < large ? 1 + random.below(2)
                                                    : 2 + random.below(3)];
    const Placed one{{random.unit() * width, random.unit() * height}, 0.15 * kind.diameter_mm};
    bool free = true;
    for (const Placed& other : placed)
      free = free && glm::distance(one.at, other.at) > one.radius + other.radius;
    if (!free) continue;
    placed.push_back(one);
    text += fmt::format("  {{ bloom = \"{}\", at = [{:.1f}, {:.1f}], turn = {} }},\n", kind.name, one.at.x,
                        one.at.y, random.below(360));
  }
  return text + "]\n";
}

std::string grid(std::uint32_t columns, std::uint32_t rows, CoverRandom& random) {
  std::string text = "grid = [";
  for (std::uint32_t row = 0; row < rows; ++row) {
    text += "[";
    for (std::uint32_t column = 0; column < columns; ++column) {
      const bool empty = (row + column > 0) && random.below(8) == 0;
      const char* layout = random.below(2) == 0 ? "sun" : "drift";
      text +=
          empty ? "\"\", " : fmt::format("\"{}{}\", ", layout, random.below(3) == 0 ? " upside down" : "");
    }
    text += "], ";
  }
  return text + "]\n";
}

std::string shot(const char* name, double right, double up, double out, double aim_up) {
  return fmt::format(
      "[[shot]]\nname = \"{}\"\nsensor = \"full frame\"\nmegapixels = 0.5\nlens = 50\n"
      "camera = [{:.0f}, {:.0f}, {:.0f}]\naim = [0, {:.0f}]\n",
      name, right, up, out, aim_up);
}

plan::LoadedPlan planOf(std::uint64_t seed, bool small) {
  CoverRandom random(seed);
  const std::uint32_t columns = 1 + random.below(small ? 2 : 3);
  const std::uint32_t rows = 1 + random.below(small ? 1 : 2);
  const double width = 220 + random.below(100);
  const double height = 220 + random.below(100);
  const double seams[] = {0, 1.5, 4};
  const double seam = seams[random.below(3)];
  const char* ground = random.below(4) == 0 ? "covered" : "bare";
  const double middle = rows * height / 2;
  const double far = 1.7 * std::max(columns * width, 1.5 * rows * height);
  std::string text = fmt::format(
      "format = 1\ntitle = \"Random {}\"\nunits = \"mm\"\nseed = {}\n[wall]\ncolumns = {}\n"
      "rows = {}\npanel = [{}, {}]\nseam = {}\nboard = {{ ground = \"{}\" }}\n",
      seed, seed, columns, rows, width, height, seam, ground);
  text += grid(columns, rows, random);
  for (const Kind& kind : hung_kinds)
    text += fmt::format("[[bloom]]\nname = \"{}\"\n{}\n", kind.name, kind.keys);
  text += filler("bud", "bud", 70, "[\"#e8a23d\", \"#b5382a\", \"#f0e6d2\"]",
                 small || random.below(2) == 0 ? 0 : 6);
  text += filler("daisy", "daisy", 45, "\"#f5f0e6\"", small || random.below(2) == 0 ? 0 : 4);
  text += filler("spray", "leaf spray", 110, "\"#56684a\"", 0);
  text += filler("ball", "pompom", 120, "\"#d9a79b\"", small ? 0 : 3);
  const int tries = small ? 48 : 36;
  text += layout("sun", width, height, tries, random);
  text += layout("drift", width, height, tries, random);
  text += shot("front", 0, middle, far, middle);
  if (random.below(2) == 0) text += shot("side", 0.6 * far, middle + 100, 0.8 * far, middle);
  Result<plan::LoadedPlan> loaded = plan::readPlan(text, "random.toml", ".");
  for (const Problem& problem : loaded.problems) FAIL(toString(problem));
  return *loaded.value;
}

}  // namespace

plan::LoadedPlan randomPlan(std::uint64_t seed) { return planOf(seed, false); }
plan::LoadedPlan smallRandomPlan(std::uint64_t seed) { return planOf(seed, true); }

}  // namespace petalproof::testing
