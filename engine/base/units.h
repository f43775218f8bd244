#pragma once
// Lengths. Inside the engine every length is a double in millimetres and says so in its name
// (`width_mm`). A length read from a plan stays in the plan's unit, as a `Length`, so that a plan
// that is written back holds the very numbers its maker typed.

#include <compare>

namespace petalproof {

enum class Units { inch, centimetre, millimetre };

// How many millimetres a unit has. The inch is exactly 25.4 mm (international yard and pound agreement,
// 1959).
constexpr double millimetresPer(Units units) {
  switch (units) {
    case Units::inch: return 25.4;
    case Units::centimetre: return 10.0;
    case Units::millimetre: return 1.0;
  }
  return 1.0;
}

// How many of a tape's smallest marks a unit has: eighths of an inch, else millimetres.
constexpr double tapeMarksPer(Units units) { return units == Units::inch ? 8.0 : millimetresPer(units); }

// A length in the unit of the plan that holds it.
struct Length {
  double value = 0;
  friend bool operator==(const Length&, const Length&) = default;
  friend auto operator<=>(const Length&, const Length&) = default;
};

constexpr double toMillimetres(Length length, Units units) { return length.value * millimetresPer(units); }

constexpr double pi = 3.14159265358979323846;
constexpr double radians(double degrees) { return degrees * pi / 180.0; }
constexpr double degrees(double radians) { return radians * 180.0 / pi; }

}  // namespace petalproof
