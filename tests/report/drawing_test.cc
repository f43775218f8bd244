#include "engine/report/internal/drawing.h"

#include "engine/report/internal/sheet.h"
#include "engine/report/internal/tape_measure.h"
#include "tests/report/pixel.h"

#include <doctest/doctest.h>

#include <array>
#include <random>

namespace petalproof {
using testing::pixel;

namespace {

constexpr Colour paper{255, 255, 255};
constexpr Colour ink{0, 0, 0};

// The smallest rectangle that holds every pixel that isn't of that colour.
report::PixelRect inked(const Image& image, Colour background) {
  int left = image.width_px;
  int top = image.height_px;
  int right = 0;
  int bottom = 0;
  for (int y = 0; y < image.height_px; ++y) {
    for (int x = 0; x < image.width_px; ++x) {
      if (pixel(image, x, y) == background) continue;
      left = std::min(left, x);
      top = std::min(top, y);
      right = std::max(right, x + 1);
      bottom = std::max(bottom, y + 1);
    }
  }
  return {left + 0.0, top + 0.0, right - left + 0.0, bottom - top + 0.0};
}

TEST_CASE("a picture that is put down keeps its pixels") {
  std::mt19937 random(3);
  Image image{17, 9, {}};
  for (int k = 0; k < 17 * 9 * 3; ++k) image.rgb.push_back(static_cast<std::uint8_t>(random()));
  report::Drawing drawing(30, 20, paper);
  drawing.place(image, 5, 4);
  const Image drawn = drawing.image();
  CHECK(pixel(drawn, 4, 4) == paper);
  for (int y = 0; y < 9; ++y) {
    for (int x = 0; x < 17; ++x) CHECK(pixel(drawn, 5 + x, 4 + y) == pixel(image, x, y));
  }
}

TEST_CASE("lines, boxes and clips cover the pixels they should") {
  report::Drawing drawing(40, 40, paper);
  const std::array<glm::dvec2, 2> line{glm::dvec2(5, 10.5), glm::dvec2(35, 10.5)};
  drawing.line(line, {1, ink, 1, {}});
  drawing.startPart({5, 15, 15, 25});
  drawing.fill({5, 5, 20, 10}, ink);
  const Image drawn = drawing.image();
  CHECK(pixel(drawn, 20, 10) == ink);
  CHECK(pixel(drawn, 20, 9) == paper);
  CHECK(pixel(drawn, 19, 25) == ink);
  CHECK(pixel(drawn, 20, 25) == paper);
  CHECK(pixel(drawn, 10, 20) == ink);
  CHECK(pixel(drawn, 9, 20) == paper);
  CHECK(pixel(drawn, 10, 19) == paper);
}

TEST_CASE("text stands where its extent says, by its alignment") {
  for (const report::Align align : {report::Align::left, report::Align::middle, report::Align::right}) {
    report::Drawing drawing(400, 60, paper);
    const report::TextStyle style{22, report::Face::sans, ink, align, 0};
    const report::PixelRect said = drawing.extentOf("B2|C2, 7 1/4 in", style, {200, 10});
    drawing.text("B2|C2, 7 1/4 in", style, {200, 10});
    const report::PixelRect drawn = inked(drawing.image(), paper);
    CHECK(drawn.left >= said.left - 1);
    CHECK(drawn.right() <= said.right() + 1);
    CHECK(drawn.left <= said.left + 4);
    CHECK(drawn.right() >= said.right() - 4);
    CHECK(drawn.top >= said.top);
    CHECK(drawn.bottom() <= said.bottom() + 1);
    const double anchor = align == report::Align::left    ? said.left
                          : align == report::Align::right ? said.right()
                                                          : said.middle().x;
    CHECK(anchor == doctest::Approx(200).epsilon(0.001));
  }
}

TEST_CASE("long text wraps at its width") {
  const report::Drawing drawing(10, 10, paper);
  const std::string words = "the frame runs off the wall on the left and at the top of the picture";
  const report::PixelRect one =
      drawing.extentOf(words, {20, report::Face::sans, ink, report::Align::left, 0});
  const report::PixelRect wrapped =
      drawing.extentOf(words, {20, report::Face::sans, ink, report::Align::left, 200});
  CHECK(one.width > 400);
  CHECK(wrapped.width <= 200);
  CHECK(wrapped.height >= 3 * one.height - 1);
}

report::SheetText longWords() {
  report::SheetText text;
  text.title = "A title that goes on for quite a while, as people's labels for their own shots sometimes do";
  text.details = {"Some plan, shot \"some shot\"", std::string(300, 'w')};
  text.finding = "12 gaps in 5 spots";
  text.key = {
      {[](report::Drawing& drawing, const report::PixelRect& place) { drawing.fill(place, ink); },
       "seam gaps"},
      {[](report::Drawing& drawing, const report::PixelRect& place) { drawing.fill(place, ink); },
       std::string(200, 'm')},
      {[](report::Drawing& drawing, const report::PixelRect& place) { drawing.fill(place, ink); }, "boards"}};
  text.notes = {std::string(90, 'n') + " " + std::string(90, 'o'), "The end."};
  return text;
}

TEST_CASE("the words of a sheet keep off its edges and off the picture, however long they are") {
  for (const glm::ivec2& size : {glm::ivec2(1600, 1000), glm::ivec2(100, 700)}) {
    CAPTURE(size.x);
    const report::SheetText text = longWords();
    const report::SheetLayout layout = report::layOut(text, size);
    const Image sheet = report::startSheet(text, layout, size).image();
    CHECK(sheet.width_px == layout.width_px);
    CHECK(sheet.height_px == layout.height_px);
    const report::PixelRect drawn = inked(sheet, report::sheet_paper);
    CHECK(drawn.left >= 56);
    CHECK(drawn.top >= 56);
    CHECK(drawn.right() <= layout.width_px - 56);
    CHECK(drawn.bottom() <= layout.height_px - 40);
    CHECK(layout.picture_left >= 60);
    CHECK(layout.picture_left + size.x <= layout.width_px - 60);
    bool clear = true;
    for (int y = layout.picture_top - 4; y < layout.picture_top + size.y + 4; ++y) {
      for (int x = 0; x < layout.width_px; ++x) clear = clear && pixel(sheet, x, y) == report::sheet_paper;
    }
    CHECK(clear);
  }
}

TEST_CASE("numbers on a tape are as far apart as asked, in steps people use") {
  // 120 in on 1,600 px: 0.525 px/mm; 6 in are 80 px, 4 in 53 px.
  CHECK(report::tapeStepMm(1600 / (120 * 25.4), Units::inch) == doctest::Approx(6 * 25.4));
  CHECK(report::tapeStepMm(1, Units::inch) == doctest::Approx(4 * 25.4));
  CHECK(report::tapeStepMm(0.01, Units::inch) == doctest::Approx(12 * 32 * 25.4));
  CHECK(report::tapeStepMm(1, Units::centimetre) == doctest::Approx(100));
  CHECK(report::tapeStepMm(0.5, Units::centimetre) == doctest::Approx(200));
  CHECK(report::tapeStepMm(0.15, Units::millimetre) == doctest::Approx(500));
}

}  // namespace
}  // namespace petalproof
