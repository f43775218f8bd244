#include "viewer/app/field_text.h"

#include "engine/base/length_text.h"

#include <fmt/format.h>

#include <cmath>
#include <numeric>

namespace petalproof::app {
namespace {

constexpr int parts_of_inch = 16;  // the finest division of a tape

std::string inSixteenths(long sixteenths) {
  const char* const sign = sixteenths < 0 ? "-" : "";
  const long whole = std::labs(sixteenths) / parts_of_inch;
  const long remainder = std::labs(sixteenths) % parts_of_inch;
  if (remainder == 0) return fmt::format("{}{}", sign, whole);
  const long common = std::gcd(remainder, static_cast<long>(parts_of_inch));
  const std::string fraction = fmt::format("{}/{}", remainder / common, parts_of_inch / common);
  return whole == 0 ? sign + fraction : fmt::format("{}{} {}", sign, whole, fraction);
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

}  // namespace

double finestStep(Units units) {
  return units == Units::inch ? 1.0 / parts_of_inch : units == Units::centimetre ? 0.1 : 1;
}

std::optional<double> numberFromText(std::string_view text, std::initializer_list<std::string_view> units) {
  text = trimmed(text);
  for (const std::string_view unit : units) {
    if (unit.ends_with('/') && text.starts_with(unit)) {
      text.remove_prefix(unit.size());
      break;
    }
    if (!unit.ends_with('/') && text.ends_with(unit)) {
      text.remove_suffix(unit.size());
      break;
    }
  }
  // A plain number reads as the same length in every unit; a text with a length unit of its own does not.
  const auto read = lengthFromText(text, Units::millimetre);
  return read && read == lengthFromText(text, Units::inch) ? std::optional(read->value) : std::nullopt;
}

std::string numberText(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (decimals > 0) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string fieldText(Length length, Units units) {
  constexpr double most_inches = 1e6;      // beyond, fields show a plain number; sixteenths fit a long
  constexpr double rounding_error = 1e-6;  // of sixteenths, from sums of lengths
  if (units == Units::inch && std::abs(length.value) < most_inches) {
    const double sixteenths = length.value * parts_of_inch;
    if (std::abs(sixteenths - std::round(sixteenths)) < rounding_error)
      return inSixteenths(std::lround(sixteenths));
  }
  return numberText(length.value, units == Units::inch ? 3 : units == Units::centimetre ? 2 : 1);
}

}  // namespace petalproof::app
