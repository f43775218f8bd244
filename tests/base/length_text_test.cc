#include "engine/base/length_text.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <string>

using namespace petalproof;

namespace {

struct Read {
  const char* text;
  Units units;
  double value;
};

// Arithmetic by hand: 1 in = 25.4 mm, 1 ft = 12 in.
constexpr Read good[] = {
    {"7", Units::inch, 7},
    {"7.25", Units::inch, 7.25},
    {"7 1/4", Units::inch, 7.25},
    {"7-1/4", Units::inch, 7.25},
    {"7  1/4", Units::inch, 7.25},
    {"7 1/4 in", Units::inch, 7.25},
    {"7-1/4\"", Units::inch, 7.25},
    {"7 1/4 inches", Units::inch, 7.25},
    {"1 inch", Units::inch, 1},
    {"3/8", Units::inch, 0.375},
    {"3/8 in", Units::inch, 0.375},
    {"5/4 in", Units::inch, 1.25},
    {".5", Units::inch, 0.5},
    {"0.1", Units::inch, 0.1},
    {"17\"", Units::inch, 17},
    {"17 in.", Units::inch, 17},
    {"17''", Units::inch, 17},
    {"17\u2033", Units::inch, 17},
    {"17\u201d", Units::inch, 17},
    {"8 ft", Units::inch, 96},
    {"8 ft 4 in", Units::inch, 100},
    {"8ft4in", Units::inch, 100},
    {"8 FT 4 IN", Units::inch, 100},
    {"8'4\"", Units::inch, 100},
    {"8' 4\"", Units::inch, 100},
    {"8'4", Units::inch, 100},
    {"8\u20194\u201d", Units::inch, 100},
    {"8\u20324\u2033", Units::inch, 100},
    {"8' 4 1/2\"", Units::inch, 100.5},
    {"8 feet 4-1/2 inches", Units::inch, 100.5},
    {"1 foot", Units::inch, 12},
    {"8.5 ft", Units::inch, 102},
    {"1/2 ft", Units::inch, 6},
    {"7\u00bd", Units::inch, 7.5},
    {"\u215c in", Units::inch, 0.375},
    {"  7 1/4 in  ", Units::inch, 7.25},
    {"-3 1/2", Units::inch, -3.5},
    {"- 3", Units::inch, -3},
    {"\u22123", Units::inch, -3},
    {"-8'4\"", Units::inch, -100},
    {"0", Units::inch, 0},
    {"-0", Units::inch, 0},
    {"60 cm", Units::centimetre, 60},
    {"60 cm", Units::millimetre, 600},
    {"43,5 cm", Units::centimetre, 43.5},
    {"0,125", Units::inch, 0.125},
    {"43,5", Units::millimetre, 43.5},
    {"1.2 m", Units::centimetre, 120},
    {"1,2 m", Units::millimetre, 1200},
    {"1 m 20 cm", Units::centimetre, 120},
    {"1 m 20", Units::centimetre, 120},
    {"600 millimetres", Units::centimetre, 60},
    {"60 centimeters", Units::centimetre, 60},
    {"2 meters", Units::centimetre, 200},
    {"254 mm", Units::inch, 10},
    {"1 in", Units::millimetre, 25.4},
    {"1 in", Units::centimetre, 2.54},
    {"3/16 in", Units::millimetre, 4.7625},
    {"1 ft", Units::centimetre, 30.48},
    {"60\u00a0cm", Units::centimetre, 60},
};

constexpr const char* bad[] = {
    "",          " ",       "in",          "cm 60",     "seven",       "7 1/0",   "1/0",
    "/4",        "7/",      "7 /4",        "7 1/ 4",    "7 5/4",       "7.5 1/4", "7 1/4 1/4",
    "5.",        ".",       "1.2.3",       "1e3",       "+3",          "--3",     "3-",
    "7-",        "7 - 1/4", "4 in 8 ft",   "8 ft 4 ft", "8.5 ft 2 in", "60 cm 5", "60 cm 5 mm",
    "8 ft 4 cm", "1,200",   "12,345 mm",   "1,2,3",     "7 miles",     "7 inn",   "nan",
    "inf",       "0x10",    "7 1/4 in in", "1 2 3",     "8'4\"\"",     "12 in x", "7;5",
    "\xff\xfe",
};

}  // namespace

TEST_CASE("lengths are read as people write them") {
  for (const Read& each : good) {
    INFO(each.text);
    const auto length = lengthFromText(each.text, each.units);
    REQUIRE(length);
    CHECK(length->value == doctest::Approx(each.value).epsilon(1e-14));
  }
}

TEST_CASE("a length in the plan's own unit keeps the number as typed") {
  CHECK(lengthFromText("0.1", Units::inch)->value == 0.1);
  CHECK(lengthFromText("0.1 in", Units::inch)->value == 0.1);
  CHECK(lengthFromText("43,7 cm", Units::centimetre)->value == 43.7);
  CHECK(lengthFromText("8'4\"", Units::inch)->value == 100.0);
}

TEST_CASE("what is no length is refused") {
  for (const char* text : bad) {
    INFO(text);
    CHECK_FALSE(lengthFromText(text, Units::inch));
  }
  CHECK_FALSE(lengthFromText(std::string(1'000'000, '7'), Units::inch));
}

TEST_CASE("lengths are written for a tape") {
  const auto inches = [](double in) { return tapeText(in * 25.4, Units::inch); };
  CHECK(inches(0) == "0 in");
  CHECK(inches(7.25) == "7 1/4 in");
  CHECK(inches(0.375) == "3/8 in");
  CHECK(inches(7.96) == "8 in");
  CHECK(inches(7.93) == "7 7/8 in");
  CHECK(inches(7.5) == "7 1/2 in");
  CHECK(inches(0.0625) == "1/8 in");
  CHECK(inches(0.0624) == "under 1/8 in");
  CHECK(inches(-7.25) == "-7 1/4 in");
  CHECK(inches(120) == "120 in");
  CHECK(inches(1234.5) == "1234 1/2 in");
  CHECK(tapeText(184.44, Units::centimetre) == "18.4 cm");
  CHECK(tapeText(180, Units::centimetre) == "18.0 cm");
  CHECK(tapeText(0, Units::centimetre) == "0 cm");
  CHECK(tapeText(0.3, Units::centimetre) == "under 0.1 cm");
  CHECK(tapeText(183.6, Units::millimetre) == "184 mm");
  CHECK(tapeText(0.3, Units::millimetre) == "under 1 mm");
  CHECK(tapeNumber(7.25 * 25.4, Units::inch) == "7 1/4");
  CHECK(tapeNumber(1, Units::inch) == "under 1/8");
}

TEST_CASE("what the tape says reads back to within half a mark") {
  std::mt19937_64 random(7);
  for (int k = 0; k < 2000; ++k) {
    const double mm = std::uniform_real_distribution<double>(-3000, 3000)(random);
    for (const Units units : {Units::inch, Units::centimetre, Units::millimetre}) {
      CAPTURE(mm);
      const std::string text = tapeText(mm, units);
      CAPTURE(text);
      if (text.starts_with("under")) continue;
      const auto back = lengthFromText(text, units);
      REQUIRE(back);
      const double half_mark = units == Units::inch ? 25.4 / 16 : 0.5;
      CHECK(std::abs(toMillimetres(*back, units) - mm) <= half_mark * (1 + 1e-9));
    }
  }
}

TEST_CASE("distances are written as people pace them") {
  const auto inches = [](double in) { return walkText(in * 25.4, Units::inch); };
  CHECK(inches(150) == "12 ft 6 in");
  CHECK(inches(144) == "12 ft");
  CHECK(inches(30.5) == "2 ft 6 1/2 in");
  CHECK(inches(6.5) == "6 1/2 in");
  CHECK(inches(0) == "0 in");
  CHECK(inches(47.7) == "4 ft");
  CHECK(inches(35.9) == "3 ft");
  CHECK(inches(36.6) == "3 ft 1 in");
  CHECK(walkText(3810, Units::centimetre) == "3.81 m");
  CHECK(walkText(3810, Units::millimetre) == "3.81 m");
}

TEST_CASE("units have names") {
  CHECK(unitName(Units::inch) == "in");
  CHECK(unitName(Units::centimetre) == "cm");
  CHECK(unitName(Units::millimetre) == "mm");
}
