#include "viewer/app/field_text.h"

#include "engine/base/length_text.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace petalproof;
using namespace petalproof::app;

TEST_CASE("a field shows a length as a maker types it") {
  CHECK(fieldText({7.25}, Units::inch) == "7 1/4");
  CHECK(fieldText({0.1875}, Units::inch) == "3/16");
  CHECK(fieldText({-0.5}, Units::inch) == "-1/2");
  CHECK(fieldText({-7.75}, Units::inch) == "-7 3/4");
  CHECK(fieldText({48}, Units::inch) == "48");
  CHECK(fieldText({0}, Units::inch) == "0");
  CHECK(fieldText({7.3214}, Units::inch) == "7.321");
  CHECK(fieldText({18.4}, Units::centimetre) == "18.4");
  CHECK(fieldText({-0.001}, Units::centimetre) == "0");
  CHECK(fieldText({600}, Units::millimetre) == "600");
  CHECK(numberText(85, 1) == "85");
  CHECK(numberText(5.6, 1) == "5.6");
}

TEST_CASE("what a field shows reads back as the same length, to what it shows") {
  for (const Units units : {Units::inch, Units::centimetre, Units::millimetre})
    for (int k = -4000; k < 4000; k += 7) {
      const Length length{k / 16.0 + (k % 3) * 0.0101};
      CAPTURE(length.value);
      const auto read = lengthFromText(fieldText(length, units), units);
      REQUIRE(read);
      CHECK(std::abs(read->value - length.value) <= (units == Units::millimetre ? 0.0501 : 0.00501));
    }
}
