#include "viewer/window/fonts.h"

#include <fontconfig/fontconfig.h>

#include <array>
#include <memory>

namespace petalproof::window {
namespace {

// The first and the last letter of each range: Latin to Extended-B, accents, Greek, Cyrillic, dashes and
// quotes, primes, fractions, arrows, minus and times.
constexpr std::array<ImWchar, 17> letters{0x0020, 0x024F, 0x02C6, 0x02DD, 0x0370, 0x03FF,
                                          0x0400, 0x052F, 0x2010, 0x2044, 0x2150, 0x215F,
                                          0x2190, 0x2199, 0x2212, 0x2264, 0};

// Of commands and lines of files in the manual: Latin, dashes and quotes, minus and times.
constexpr std::array<ImWchar, 7> file_letters{0x0020, 0x00FF, 0x2010, 0x2044, 0x2212, 0x2264, 0};

struct PatternEnd {
  void operator()(FcPattern* pattern) const { FcPatternDestroy(pattern); }
};
using Pattern = std::unique_ptr<FcPattern, PatternEnd>;

ImFont* load(const char* pattern, float size_px, const ImWchar* ranges = letters.data()) {
  const std::optional<std::string> file = fontFile(pattern);
  if (!file) return nullptr;
  ImFontConfig how;
  how.OversampleH = 2;
  how.OversampleV = 1;
  how.PixelSnapH = true;
  return ImGui::GetIO().Fonts->AddFontFromFileTTF(file->c_str(), size_px, &how, ranges);
}

}  // namespace

std::optional<std::string> fontFile(const std::string& pattern) {
  const auto* const text = reinterpret_cast<const FcChar8*>(pattern.c_str());  // NOLINT: fontconfig's letters
  const Pattern wanted(FcNameParse(text));
  if (!wanted) return std::nullopt;
  FcConfigSubstitute(nullptr, wanted.get(), FcMatchPattern);
  FcDefaultSubstitute(wanted.get());
  FcResult result = FcResultNoMatch;
  const Pattern found(FcFontMatch(nullptr, wanted.get(), &result));
  FcChar8* file = nullptr;
  if (!found || FcPatternGetString(found.get(), FC_FILE, 0, &file) != FcResultMatch) return std::nullopt;
  return std::string(reinterpret_cast<const char*>(file));  // NOLINT: as above
}

Fonts loadFonts(float scale) {
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  atlas.Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight;
  Fonts fonts;
  fonts.text = load("DejaVu Sans", 15 * scale);
  fonts.bold = load("DejaVu Sans:bold", 15 * scale);
  fonts.title = load("DejaVu Serif", 21 * scale);
  fonts.small = load("DejaVu Sans", 12 * scale);
  fonts.mono = load("DejaVu Sans Mono", 13 * scale, file_letters.data());
  ImFont* const plain = fonts.text != nullptr ? fonts.text : atlas.AddFontDefault();
  for (ImFont** font : {&fonts.text, &fonts.bold, &fonts.title, &fonts.small, &fonts.mono})
    if (*font == nullptr) *font = plain;
  return fonts;
}

}  // namespace petalproof::window
