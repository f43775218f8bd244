#include "engine/base/colour.h"

#include <doctest/doctest.h>

#include <string>

using namespace petalproof;

TEST_CASE("hex colours are read and written") {
  CHECK(colourFromHex("#b5382a") == Colour{0xb5, 0x38, 0x2a});
  CHECK(colourFromHex("#FFF") == Colour{255, 255, 255});
  CHECK(toHex(Colour{0xb5, 0x38, 0x2a}) == "#b5382a");
  for (const char* bad : {"", "#", "b5382a", "#b5382", "#b5382g", "#12", "red"})
    CHECK_FALSE(colourFromHex(bad));
}

TEST_CASE("linear light follows IEC 61966-2-1") {
  // IEC 61966-2-1:1999: linear = c / 12.92 up to 0.04045, else ((c + 0.055) / 1.055)^2.4.
  // #808080 has Y = 0.215861 (computed with the exact matrix by two general colour libraries, culori 4.0.2
  // and colorjs.io 0.7.1).
  CHECK(linearFromSrgb({128, 128, 128}).x == doctest::Approx(0.215861).epsilon(1e-5));
  CHECK(linearFromSrgb({51, 51, 51}).x == doctest::Approx(0.033105).epsilon(1e-4));
  for (int byte = 0; byte < 256; ++byte) {
    const auto b = static_cast<std::uint8_t>(byte);
    CHECK(srgbFromLinear(linearFromSrgb({b, b, b})) == Colour{b, b, b});
  }
}
