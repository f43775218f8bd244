#include "engine/base/colour_difference.h"

#include "engine/base/colour.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <cstdint>

using namespace petalproof;

namespace {

struct Pair {
  glm::dvec3 a;
  glm::dvec3 b;
  double difference;
};

// G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary
// Test Data, and Mathematical Observations", Color Research and Application 30(1), 2005, Table I: all 34.
const Pair published[] = {
    {{50.0000, 2.6772, -79.7751}, {50.0000, 0.0000, -82.7485}, 2.0425},
    {{50.0000, 3.1571, -77.2803}, {50.0000, 0.0000, -82.7485}, 2.8615},
    {{50.0000, 2.8361, -74.0200}, {50.0000, 0.0000, -82.7485}, 3.4412},
    {{50.0000, -1.3802, -84.2814}, {50.0000, 0.0000, -82.7485}, 1.0000},
    {{50.0000, -1.1848, -84.8006}, {50.0000, 0.0000, -82.7485}, 1.0000},
    {{50.0000, -0.9009, -85.5211}, {50.0000, 0.0000, -82.7485}, 1.0000},
    {{50.0000, 0.0000, 0.0000}, {50.0000, -1.0000, 2.0000}, 2.3669},
    {{50.0000, -1.0000, 2.0000}, {50.0000, 0.0000, 0.0000}, 2.3669},
    {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0009}, 7.1792},
    {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0010}, 7.1792},
    {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0011}, 7.2195},
    {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0012}, 7.2195},
    {{50.0000, -0.0010, 2.4900}, {50.0000, 0.0009, -2.4900}, 4.8045},
    {{50.0000, -0.0010, 2.4900}, {50.0000, 0.0010, -2.4900}, 4.8045},
    {{50.0000, -0.0010, 2.4900}, {50.0000, 0.0011, -2.4900}, 4.7461},
    {{50.0000, 2.5000, 0.0000}, {50.0000, 0.0000, -2.5000}, 4.3065},
    {{50.0000, 2.5000, 0.0000}, {73.0000, 25.0000, -18.0000}, 27.1492},
    {{50.0000, 2.5000, 0.0000}, {61.0000, -5.0000, 29.0000}, 22.8977},
    {{50.0000, 2.5000, 0.0000}, {56.0000, -27.0000, -3.0000}, 31.9030},
    {{50.0000, 2.5000, 0.0000}, {58.0000, 24.0000, 15.0000}, 19.4535},
    {{50.0000, 2.5000, 0.0000}, {50.0000, 3.1736, 0.5854}, 1.0000},
    {{50.0000, 2.5000, 0.0000}, {50.0000, 3.2972, 0.0000}, 1.0000},
    {{50.0000, 2.5000, 0.0000}, {50.0000, 1.8634, 0.5757}, 1.0000},
    {{50.0000, 2.5000, 0.0000}, {50.0000, 3.2592, 0.3350}, 1.0000},
    {{60.2574, -34.0099, 36.2677}, {60.4626, -34.1751, 39.4387}, 1.2644},
    {{63.0109, -31.0961, -5.8663}, {62.8187, -29.7946, -4.0864}, 1.2630},
    {{61.2901, 3.7196, -5.3901}, {61.4292, 2.2480, -4.9620}, 1.8731},
    {{35.0831, -44.1164, 3.7933}, {35.0232, -40.0716, 1.5901}, 1.8645},
    {{22.7233, 20.0904, -46.6940}, {23.0331, 14.9730, -42.5619}, 2.0373},
    {{36.4612, 47.8580, 18.3852}, {36.2715, 50.5065, 21.2231}, 1.4146},
    {{90.8027, -2.0831, 1.4410}, {91.1528, -1.6435, 0.0447}, 1.4441},
    {{90.9257, -0.5406, -0.9208}, {88.6381, -0.8985, -0.7239}, 1.5381},
    {{6.7747, -0.2908, -2.4247}, {5.8714, -0.0985, -2.2286}, 0.6377},
    {{2.0776, 0.0795, -1.1350}, {0.9033, -0.0636, -0.5514}, 0.9082},
};

struct Converted {
  Colour colour;
  glm::dvec3 xyz;
  glm::dvec3 lab;
};

// Computed by two general colour libraries, culori 4.0.2 and colorjs.io 0.7.1, which agree; D65, 2 degrees.
const Converted converted[] = {
    {{0xff, 0x00, 0x00}, {0.412391, 0.212639, 0.019331}, {53.2371, 80.0901, 67.2033}},
    {{0x00, 0xff, 0x00}, {0.357584, 0.715169, 0.119195}, {87.7355, -86.1816, 83.1866}},
    {{0x00, 0x00, 0xff}, {0.180481, 0.072192, 0.950532}, {32.3009, 79.1953, -107.8555}},
    {{0xff, 0xff, 0xff}, {0.950456, 1.0, 1.089058}, {100, 0, 0}},
    {{0x80, 0x80, 0x80}, {0.205166, 0.215861, 0.235085}, {53.5850, 0, 0}},
    {{0xf4, 0xc2, 0xc2}, {0.663349, 0.617131, 0.594584}, {82.7606, 17.8210, 6.8148}},
    {{0xff, 0xc0, 0xcb}, {0.708662, 0.632729, 0.649820}, {83.5857, 24.1417, 3.3247}},
    {{0x33, 0x33, 0x33}, {0.031465, 0.033105, 0.036053}, {21.2467, 0, 0}},
};

}  // namespace

TEST_CASE("CIEDE2000 gives the published differences of all 34 pairs, both ways round") {
  for (const Pair& pair : published) {
    CAPTURE(pair.difference);
    CHECK(std::abs(difference2000(pair.a, pair.b) - pair.difference) < 1e-4);
    CHECK(std::abs(difference2000(pair.b, pair.a) - pair.difference) < 1e-4);
  }
}

TEST_CASE("CIEDE2000 of black and white is 100") {
  // ICC HDR Working Group, test data of 2020.
  CHECK(std::abs(difference2000({100, 0, 0}, {0, 0, 0}) - 100) < 1e-4);
  CHECK(std::abs(difference2000({84.25, 5.74, 96}, {84.46, 8.88, 96.49}) - 1.6743) < 1e-4);
  CHECK(std::abs(difference2000({84.25, 5.74, 96}, {84.52, 5.75, 93.09}) - 0.5887) < 1e-4);
  CHECK(std::abs(difference2000({84.25, 5.74, 96}, {84.37, 5.86, 99.42}) - 0.6395) < 1e-4);
}

TEST_CASE("sRGB becomes the XYZ and Lab that other libraries give") {
  for (const Converted& one : converted) {
    CAPTURE(toHex(one.colour));
    const glm::dvec3 xyz = xyzFromLinear(glm::dvec3(linearFromSrgb(one.colour)));
    CHECK(glm::distance(xyz, one.xyz) < 2e-6);
    // The accepted roundings of matrix and white differ by up to 0.01 in Lab.
    CHECK(glm::distance(labFromXyz(xyz), one.lab) < 0.02);
  }
}

TEST_CASE("greys are neutral and XYZ goes back to linear light") {
  for (int byte = 0; byte < 256; ++byte) {
    const auto b = static_cast<std::uint8_t>(byte);
    const glm::dvec3 lab = labFromXyz(xyzFromLinear(glm::dvec3(linearFromSrgb({b, b, b}))));
    CHECK(std::abs(lab.y) < 1e-9);
    CHECK(std::abs(lab.z) < 1e-9);
  }
  const glm::dvec3 linear(0.3, 0.7, 0.05);
  CHECK(glm::distance(linearFromXyz(xyzFromLinear(linear)), linear) < 1e-14);
}

TEST_CASE("less than no light is black") {
  CHECK(labFromXyz({-0.1, 0, -2}) == labFromXyz({0, 0, 0}));
  CHECK(std::abs(labFromXyz({0, 0, 0}).x) < 1e-12);
}
