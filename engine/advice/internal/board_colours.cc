#include "engine/advice/internal/board_colours.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace petalproof::advice {
namespace {

// Colours of card by eye, no source.
constexpr Colour white{0xff, 0xff, 0xff};
constexpr Colour black{0x1c, 0x1c, 0x1c};
constexpr Colour kraft{0xb5, 0x8a, 0x5e};
constexpr std::size_t most_of_palette = 8;  // each costs a reading of every shot
// Two colours that differ by less in every channel are taken for the same paper.
constexpr int alike = 12;

struct HueSaturationLightness {
  double hue_deg;
  double saturation;
  double lightness;
};

// A. R. Smith, "Color gamut transform pairs", 1978 (the double hexcone).
HueSaturationLightness hslOf(Colour colour) {
  const double r = colour.red / 255.0;
  const double g = colour.green / 255.0;
  const double b = colour.blue / 255.0;
  const double most = std::max({r, g, b});
  const double least = std::min({r, g, b});
  const double spread = most - least;
  const double lightness = (most + least) / 2;
  if (spread == 0) return {0, 0, lightness};
  double sextant = 4 + (r - g) / spread;
  if (most == r)
    sextant = std::fmod((g - b) / spread + 6, 6);
  else if (most == g)
    sextant = 2 + (b - r) / spread;
  return {60 * sextant, spread / (1 - std::abs(2 * lightness - 1)), lightness};
}

std::string greyName(double lightness) {
  if (lightness < 0.15) return "black";
  if (lightness < 0.35) return "dark grey";
  if (lightness < 0.7) return "grey";
  return lightness < 0.92 ? "light grey" : "white";
}

std::string_view hueName(double hue_deg) {
  struct Upto {
    double hue_deg;
    std::string_view name;
  };
  constexpr std::array<Upto, 10> names = {{{15, "red"},
                                           {43, "orange"},
                                           {68, "yellow"},
                                           {160, "green"},
                                           {195, "teal"},
                                           {255, "blue"},
                                           {290, "purple"},
                                           {335, "pink"},
                                           {345, "red"},
                                           {361, "red"}}};
  for (const Upto& each : names)
    if (hue_deg < each.hue_deg) return each.name;
  return "red";
}

bool isAlike(Colour a, Colour b) {
  return std::abs(a.red - b.red) <= alike && std::abs(a.green - b.green) <= alike &&
         std::abs(a.blue - b.blue) <= alike;
}

// The area of the wall that each colour of each kind covers: counts times squared diameters.
struct Used {
  Colour colour;
  std::size_t kind = 0;
  double area = 0;
};

class Palette {
 public:
  explicit Palette(const plan::Plan& plan) : plan_(plan) {
    for (const plan::Cell& cell : plan.wall.grid.cells())
      if (const plan::Layout* layout = plan::findLayout(plan, cell.layout))
        for (const plan::Placement& placement : layout->blooms) add(placement);
    for (const plan::Filler& filler : plan.fillers) add(filler.placement);
  }

  // Most of the wall first.
  std::vector<Used> sorted() const {
    std::vector<Used> all = used_;
    std::stable_sort(all.begin(), all.end(), [](const Used& a, const Used& b) { return a.area > b.area; });
    return all;
  }

 private:
  void add(const plan::Placement& placement) {
    const plan::Bloom* bloom = plan::findBloom(plan_, placement.bloom);
    if (bloom == nullptr) return;
    const auto kind = static_cast<std::size_t>(bloom - plan_.blooms.data());
    const double area = bloom->diameter.value * bloom->diameter.value;
    if (placement.colour) {
      add(*placement.colour, kind, area);
      return;
    }
    const double share = 1.0 / static_cast<double>(bloom->colours.size());
    for (const Colour colour : bloom->colours) add(colour, kind, area * share);
  }

  void add(Colour colour, std::size_t kind, double area) {
    for (Used& each : used_) {
      if (each.kind != kind || each.colour != colour) continue;
      each.area += area;
      return;
    }
    used_.push_back({colour, kind, area});
  }

  const plan::Plan& plan_;
  std::vector<Used> used_;
};

std::string nameFor(const Used& used, const plan::Plan& plan) {
  const plan::Bloom& bloom = plan.blooms[used.kind];
  return fmt::format("the {} of {}", plainColourName(used.colour),
                     bloom.label.empty() ? bloom.name : bloom.label);
}

}  // namespace

std::string plainColourName(Colour colour) {
  const HueSaturationLightness hsl = hslOf(colour);
  const double chroma = hsl.saturation * (1 - std::abs(2 * hsl.lightness - 1));
  if (chroma < 0.06) return greyName(hsl.lightness);
  const bool warm = hsl.hue_deg < 68 || hsl.hue_deg >= 345;
  if (warm && hsl.lightness > 0.86) return "cream";
  if (hsl.hue_deg >= 15 && hsl.hue_deg < 43 && hsl.lightness < 0.45) return "brown";
  if (hsl.hue_deg >= 15 && hsl.hue_deg < 50 && hsl.saturation < 0.5)
    return hsl.lightness < 0.65 ? "brown" : "beige";
  if ((hsl.hue_deg < 15 || hsl.hue_deg >= 335) && hsl.lightness > 0.65) return "pink";
  const std::string_view hue = hueName(hsl.hue_deg);
  if (hsl.lightness < 0.25) return fmt::format("dark {}", hue);
  return hsl.lightness > 0.75 ? fmt::format("light {}", hue) : std::string(hue);
}

std::vector<BoardColour> boardColours(const plan::Plan& plan) {
  std::vector<BoardColour> colours;
  const auto isNew = [&](Colour colour) {
    return !isAlike(colour, plan.wall.board.colour) &&
           std::none_of(colours.begin(), colours.end(),
                        [&](const BoardColour& each) { return isAlike(each.colour, colour); });
  };
  for (const Used& used : Palette(plan).sorted()) {
    if (colours.size() == most_of_palette) break;
    if (isNew(used.colour)) colours.push_back({used.colour, nameFor(used, plan)});
  }
  const std::array<BoardColour, 3> plain = {{{white, "white"}, {black, "black"}, {kraft, "kraft brown"}}};
  for (const BoardColour& each : plain)
    if (isNew(each.colour)) colours.push_back(each);
  return colours;
}

}  // namespace petalproof::advice
