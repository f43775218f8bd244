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

TEST_CASE("a number is read as people type it, with the unit of its field") {
  CHECK(numberFromText("85", {}) == 85);
  CHECK(numberFromText(" 7 1/4 ", {}) == 7.25);
  CHECK(numberFromText("-1/2", {}) == -0.5);
  CHECK(numberFromText("5,6", {}) == doctest::Approx(5.6));
  CHECK(numberFromText("85 mm", {"mm"}) == 85);
  CHECK(numberFromText("85mm", {"mm"}) == 85);
  CHECK(numberFromText("f/2.8", {"f/"}) == doctest::Approx(2.8));
  CHECK(numberFromText("30\u00b0", {"\u00b0", "degrees"}) == 30);
  CHECK(numberFromText("22 1/2 degrees", {"\u00b0", "degrees"}) == 22.5);
  CHECK(numberFromText("4 %", {"%"}) == 4);
  // Units of other fields, and what is no number.
  CHECK(!numberFromText("85 mm", {}));
  CHECK(!numberFromText("30 in", {"mm"}));
  CHECK(!numberFromText("7'", {}));
  CHECK(!numberFromText("7\u2033", {}));
  CHECK(!numberFromText("7 1/0", {}));
  CHECK(!numberFromText("mm", {"mm"}));
  CHECK(!numberFromText("", {}));
  CHECK(!numberFromText("1 2", {}));
}
