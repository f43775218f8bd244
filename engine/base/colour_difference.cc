#include "engine/base/colour_difference.h"

#include "engine/base/units.h"

#include <glm/geometric.hpp>
#include <glm/mat3x3.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

// Columns are the XYZ of the sRGB primaries at full power (chromaticities of IEC 61966-2-1:1999, white
// x = 0.3127, y = 0.3290, solved in full precision).
const glm::dmat3& xyzMatrix() {
  static const glm::dmat3 matrix(glm::dvec3(0.41239079926595934, 0.21263900587151027, 0.019330818715591851),
                                 glm::dvec3(0.35758433938387796, 0.71516867876775592, 0.11919477979462599),
                                 glm::dvec3(0.18048078840183429, 0.072192315360733715, 0.95053215224966071));
  return matrix;
}

// CIE 15: the cube root, with a straight line near black.
double labCurve(double t) {
  constexpr double knee = 216.0 / 24389.0;
  return t > knee ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
}

// The hue angle, 0 to 360 degrees; 0 for a grey.
double hueOf(double a, double b) {
  if (a == 0 && b == 0) return 0;
  const double hue = degrees(std::atan2(b, a));
  return hue < 0 ? hue + 360 : hue;
}

double seventhPowerShare(double chroma) {
  const double seventh = std::pow(chroma, 7);
  constexpr double seventh_of_25 = 6103515625.0;  // 25^7, of the paper's equations (4) and (17)
  return std::sqrt(seventh / (seventh + seventh_of_25));
}

struct Polar {
  double lightness;
  double chroma;
  double hue;  // degrees
};

// The difference and the mean of two hues, the short way round. The numbers behind the functions are the
// paper's equations.
double hueDifference(const Polar& a, const Polar& b) {  // (10)
  if (a.chroma * b.chroma == 0) return 0;
  const double apart = b.hue - a.hue;
  if (apart > 180) return apart - 360;
  if (apart < -180) return apart + 360;
  return apart;
}

double meanHue(const Polar& a, const Polar& b) {  // (14)
  const double sum = a.hue + b.hue;
  if (a.chroma * b.chroma == 0) return sum;
  if (std::abs(a.hue - b.hue) <= 180) return sum / 2;
  return sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
}

double hueWeight(double hue) {  // (15)
  return 1 - 0.17 * std::cos(radians(hue - 30)) + 0.24 * std::cos(radians(2 * hue)) +
         0.32 * std::cos(radians(3 * hue + 6)) - 0.20 * std::cos(radians(4 * hue - 63));
}

double rotation(double hue, double chroma) {  // (16), (17), (21)
  const double turned = (hue - 275) / 25;
  const double angle = 30 * std::exp(-turned * turned);
  return -std::sin(radians(2 * angle)) * 2 * seventhPowerShare(chroma);
}

double fromPolar(const Polar& a, const Polar& b) {
  const double lightness = (a.lightness + b.lightness) / 2;
  const double chroma = (a.chroma + b.chroma) / 2;
  const double hue = meanHue(a, b);
  const double off_middle = (lightness - 50) * (lightness - 50);
  const double s_l = 1 + 0.015 * off_middle / std::sqrt(20 + off_middle);
  const double s_c = 1 + 0.045 * chroma;
  const double s_h = 1 + 0.015 * chroma * hueWeight(hue);
  const double l = (b.lightness - a.lightness) / s_l;
  const double c = (b.chroma - a.chroma) / s_c;
  const double h = 2 * std::sqrt(a.chroma * b.chroma) * std::sin(radians(hueDifference(a, b) / 2)) / s_h;
  return std::sqrt(l * l + c * c + h * h + rotation(hue, chroma) * c * h);
}

}  // namespace

glm::dvec3 xyzFromLinear(const glm::dvec3& linear_rgb) { return xyzMatrix() * linear_rgb; }

glm::dvec3 linearFromXyz(const glm::dvec3& xyz) { return glm::inverse(xyzMatrix()) * xyz; }

glm::dvec3 whiteXyz() { return xyzFromLinear(glm::dvec3(1.0)); }

glm::dvec3 labFromXyz(const glm::dvec3& xyz) {
  const glm::dvec3 white = whiteXyz();
  const double x = labCurve(std::max(xyz.x, 0.0) / white.x);
  const double y = labCurve(std::max(xyz.y, 0.0) / white.y);
  const double z = labCurve(std::max(xyz.z, 0.0) / white.z);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

double difference1976(const glm::dvec3& lab_a, const glm::dvec3& lab_b) {
  return glm::distance(lab_a, lab_b);
}

double difference2000(const glm::dvec3& lab_a, const glm::dvec3& lab_b) {
  const double chroma = (std::hypot(lab_a.y, lab_a.z) + std::hypot(lab_b.y, lab_b.z)) / 2;
  const double stretched = 1 + (1 - seventhPowerShare(chroma)) / 2;  // 1 + G
  const auto polar = [stretched](const glm::dvec3& lab) {
    return Polar{lab.x, std::hypot(lab.y * stretched, lab.z), hueOf(lab.y * stretched, lab.z)};
  };
  return fromPolar(polar(lab_a), polar(lab_b));
}

}  // namespace petalproof
