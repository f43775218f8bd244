#include "engine/tables/internal/colour_names.h"

#include "engine/tables/internal/table_words.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace petalproof::tables {
namespace {

struct Named {
  std::string_view name;
  std::uint32_t rgb;
};

constexpr std::array css{std::to_array<Named>({{"aliceblue", 0xf0f8ff},
                                               {"antiquewhite", 0xfaebd7},
                                               {"aqua", 0x00ffff},
                                               {"aquamarine", 0x7fffd4},
                                               {"azure", 0xf0ffff},
                                               {"beige", 0xf5f5dc},
                                               {"bisque", 0xffe4c4},
                                               {"black", 0x000000},
                                               {"blanchedalmond", 0xffebcd},
                                               {"blue", 0x0000ff},
                                               {"blueviolet", 0x8a2be2},
                                               {"brown", 0xa52a2a},
                                               {"burlywood", 0xdeb887},
                                               {"cadetblue", 0x5f9ea0},
                                               {"chartreuse", 0x7fff00},
                                               {"chocolate", 0xd2691e},
                                               {"coral", 0xff7f50},
                                               {"cornflowerblue", 0x6495ed},
                                               {"cornsilk", 0xfff8dc},
                                               {"crimson", 0xdc143c},
                                               {"cyan", 0x00ffff},
                                               {"darkblue", 0x00008b},
                                               {"darkcyan", 0x008b8b},
                                               {"darkgoldenrod", 0xb8860b},
                                               {"darkgray", 0xa9a9a9},
                                               {"darkgreen", 0x006400},
                                               {"darkgrey", 0xa9a9a9},
                                               {"darkkhaki", 0xbdb76b},
                                               {"darkmagenta", 0x8b008b},
                                               {"darkolivegreen", 0x556b2f},
                                               {"darkorange", 0xff8c00},
                                               {"darkorchid", 0x9932cc},
                                               {"darkred", 0x8b0000},
                                               {"darksalmon", 0xe9967a},
                                               {"darkseagreen", 0x8fbc8f},
                                               {"darkslateblue", 0x483d8b},
                                               {"darkslategray", 0x2f4f4f},
                                               {"darkslategrey", 0x2f4f4f},
                                               {"darkturquoise", 0x00ced1},
                                               {"darkviolet", 0x9400d3},
                                               {"deeppink", 0xff1493},
                                               {"deepskyblue", 0x00bfff},
                                               {"dimgray", 0x696969},
                                               {"dimgrey", 0x696969},
                                               {"dodgerblue", 0x1e90ff},
                                               {"firebrick", 0xb22222},
                                               {"floralwhite", 0xfffaf0},
                                               {"forestgreen", 0x228b22},
                                               {"fuchsia", 0xff00ff},
                                               {"gainsboro", 0xdcdcdc},
                                               {"ghostwhite", 0xf8f8ff},
                                               {"gold", 0xffd700},
                                               {"goldenrod", 0xdaa520},
                                               {"gray", 0x808080},
                                               {"green", 0x008000},
                                               {"greenyellow", 0xadff2f},
                                               {"grey", 0x808080},
                                               {"honeydew", 0xf0fff0},
                                               {"hotpink", 0xff69b4},
                                               {"indianred", 0xcd5c5c},
                                               {"indigo", 0x4b0082},
                                               {"ivory", 0xfffff0},
                                               {"khaki", 0xf0e68c},
                                               {"lavender", 0xe6e6fa},
                                               {"lavenderblush", 0xfff0f5},
                                               {"lawngreen", 0x7cfc00},
                                               {"lemonchiffon", 0xfffacd},
                                               {"lightblue", 0xadd8e6},
                                               {"lightcoral", 0xf08080},
                                               {"lightcyan", 0xe0ffff},
                                               {"lightgoldenrodyellow", 0xfafad2},
                                               {"lightgray", 0xd3d3d3},
                                               {"lightgreen", 0x90ee90},
                                               {"lightgrey", 0xd3d3d3},
                                               {"lightpink", 0xffb6c1},
                                               {"lightsalmon", 0xffa07a},
                                               {"lightseagreen", 0x20b2aa},
                                               {"lightskyblue", 0x87cefa},
                                               {"lightslategray", 0x778899},
                                               {"lightslategrey", 0x778899},
                                               {"lightsteelblue", 0xb0c4de},
                                               {"lightyellow", 0xffffe0},
                                               {"lime", 0x00ff00},
                                               {"limegreen", 0x32cd32},
                                               {"linen", 0xfaf0e6},
                                               {"magenta", 0xff00ff},
                                               {"maroon", 0x800000},
                                               {"mediumaquamarine", 0x66cdaa},
                                               {"mediumblue", 0x0000cd},
                                               {"mediumorchid", 0xba55d3},
                                               {"mediumpurple", 0x9370db},
                                               {"mediumseagreen", 0x3cb371},
                                               {"mediumslateblue", 0x7b68ee},
                                               {"mediumspringgreen", 0x00fa9a},
                                               {"mediumturquoise", 0x48d1cc},
                                               {"mediumvioletred", 0xc71585},
                                               {"midnightblue", 0x191970},
                                               {"mintcream", 0xf5fffa},
                                               {"mistyrose", 0xffe4e1},
                                               {"moccasin", 0xffe4b5},
                                               {"navajowhite", 0xffdead},
                                               {"navy", 0x000080},
                                               {"oldlace", 0xfdf5e6},
                                               {"olive", 0x808000},
                                               {"olivedrab", 0x6b8e23},
                                               {"orange", 0xffa500},
                                               {"orangered", 0xff4500},
                                               {"orchid", 0xda70d6},
                                               {"palegoldenrod", 0xeee8aa},
                                               {"palegreen", 0x98fb98},
                                               {"paleturquoise", 0xafeeee},
                                               {"palevioletred", 0xdb7093},
                                               {"papayawhip", 0xffefd5},
                                               {"peachpuff", 0xffdab9},
                                               {"peru", 0xcd853f},
                                               {"pink", 0xffc0cb},
                                               {"plum", 0xdda0dd},
                                               {"powderblue", 0xb0e0e6},
                                               {"purple", 0x800080},
                                               {"rebeccapurple", 0x663399},
                                               {"red", 0xff0000},
                                               {"rosybrown", 0xbc8f8f},
                                               {"royalblue", 0x4169e1},
                                               {"saddlebrown", 0x8b4513},
                                               {"salmon", 0xfa8072},
                                               {"sandybrown", 0xf4a460},
                                               {"seagreen", 0x2e8b57},
                                               {"seashell", 0xfff5ee},
                                               {"sienna", 0xa0522d},
                                               {"silver", 0xc0c0c0},
                                               {"skyblue", 0x87ceeb},
                                               {"slateblue", 0x6a5acd},
                                               {"slategray", 0x708090},
                                               {"slategrey", 0x708090},
                                               {"snow", 0xfffafa},
                                               {"springgreen", 0x00ff7f},
                                               {"steelblue", 0x4682b4},
                                               {"tan", 0xd2b48c},
                                               {"teal", 0x008080},
                                               {"thistle", 0xd8bfd8},
                                               {"tomato", 0xff6347},
                                               {"turquoise", 0x40e0d0},
                                               {"violet", 0xee82ee},
                                               {"wheat", 0xf5deb3},
                                               {"white", 0xffffff},
                                               {"whitesmoke", 0xf5f5f5},
                                               {"yellow", 0xffff00},
                                               {"yellowgreen", 0x9acd32}})};

constexpr std::array card{std::to_array<Named>({
    {"apricot", 0xf2b38a},      {"baby blue", 0xbfd8e8},    {"baby pink", 0xf4c9cf},
    {"blush", 0xe8bdb3},        {"brick", 0xa0452f},        {"bronze", 0xa8793f},
    {"burgundy", 0x6b1f33},     {"burnt orange", 0xc05a23}, {"butter", 0xf6e3a1},
    {"buttercream", 0xf7ecd0},  {"caramel", 0xbf8347},      {"champagne", 0xf0dfc4},
    {"charcoal", 0x3d3f42},     {"cinnamon", 0x9c5a36},     {"claret", 0x6d1a2d},
    {"copper", 0xb4602f},       {"cream", 0xf6ead3},        {"dusty blue", 0x8fa6b8},
    {"dusty pink", 0xd5a6a3},   {"dusty rose", 0xc48a8a},   {"ecru", 0xe6dcc3},
    {"eggplant", 0x4d2a48},     {"emerald", 0x1f7a54},      {"eucalyptus", 0x8fa597},
    {"forest", 0x2f5139},       {"forest green", 0x2f5139}, {"fuchsia pink", 0xd0347f},
    {"hunter green", 0x2f5233}, {"jade", 0x4f9d7a},         {"kraft", 0xb58a5e},
    {"lemon", 0xf5e46a},        {"lilac", 0xc3aed6},        {"marsala", 0x8a4543},
    {"mauve", 0xa9869c},        {"merlot", 0x5d1f2e},       {"mint", 0xbfe0cc},
    {"moss", 0x717a3f},         {"mulberry", 0x7a2f52},     {"mustard", 0xd0a02f},
    {"natural", 0xe9dcc3},      {"nude", 0xe3c2ac},         {"ochre", 0xc4892f},
    {"off white", 0xf7f3e8},    {"olive green", 0x77793f},  {"peach", 0xf5c3a2},
    {"pearl", 0xf2ede4},        {"periwinkle", 0x9aa3d6},   {"pewter", 0x8d9090},
    {"pistachio", 0xb9c98f},    {"poppy", 0xd8402c},        {"powder pink", 0xefcfd0},
    {"rose", 0xd98a93},         {"rose gold", 0xc8907f},    {"ruby", 0x9b1b3a},
    {"rust", 0xa9492a},         {"saffron", 0xe3a02c},      {"sage", 0xa3af95},
    {"sage green", 0xa3af95},   {"sand", 0xdcc7a3},         {"sapphire", 0x27488f},
    {"scarlet", 0xc0261f},      {"seafoam", 0xa6d2c0},      {"slate", 0x66727b},
    {"straw", 0xe6d08c},        {"taupe", 0xa39383},        {"terracotta", 0xc0694a},
    {"terra cotta", 0xc0694a},  {"vanilla", 0xf5e8c7},      {"wine", 0x661c31},
})};

Colour colourOf(std::uint32_t rgb) {
  return {static_cast<std::uint8_t>(rgb >> 16U), static_cast<std::uint8_t>((rgb >> 8U) & 0xFFU),
          static_cast<std::uint8_t>(rgb & 0xFFU)};
}

template <std::size_t size>
std::optional<Colour> find(const std::array<Named, size>& table, std::string_view name) {
  const auto found =
      std::find_if(table.begin(), table.end(), [&](const Named& entry) { return entry.name == name; });
  return found == table.end() ? std::nullopt : std::optional(colourOf(found->rgb));
}

std::string withAmericanGrey(std::string name) {
  const auto at = name.find("grey");
  if (at != std::string::npos) name.replace(at, 4, "gray");
  return name;
}

}  // namespace

std::optional<Colour> cssColour(std::string_view name) {
  return find(css, withAmericanGrey(joined(wordsOf(name), "")));
}

std::optional<Colour> cardColour(std::string_view name) { return find(card, joined(wordsOf(name))); }

std::vector<std::string> knownColourNames() {
  std::vector<std::string> names;
  for (const Named& entry : css) names.emplace_back(entry.name);
  for (const Named& entry : card) names.emplace_back(entry.name);
  return names;
}

std::vector<Colour> usualPalette() {
  return {{0xe8, 0xbd, 0xb3}, {0xf6, 0xea, 0xd3}, {0xc4, 0x8a, 0x8a}, {0xc0, 0x69, 0x4a}, {0xf5, 0xc3, 0xa2}};
}

Colour usualGreen() { return {0x8f, 0xa5, 0x97}; }

}  // namespace petalproof::tables
