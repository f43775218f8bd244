#include "engine/tables/internal/table_values.h"
#include "engine/plan/leaf_plate.h"
#include "engine/plan/plan_defaults.h"
#include "engine/plan/shape_names.h"
#include "engine/plan/table_text.h"
#include "engine/tables/internal/bloom_headings.h"
#include "engine/tables/internal/colour_names.h"
#include "engine/tables/internal/colours_from_text.h"
#include "engine/tables/internal/grid_cell.h"
#include "engine/tables/internal/shape_guess.h"
#include "engine/tables/wall_size.h"

#include <doctest/doctest.h>

#include <string>
#include <tuple>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::tables;

TEST_CASE("sizes are read in the units and spellings of people") {
  const auto inches = [](const char* text) {
    const auto size = sizeFromText(text, Units::inch, Units::inch);
    return size ? size->length.value : -1;
  };
  CHECK(inches("17") == 17);
  CHECK(inches("17\"") == 17);
  CHECK(inches("17 in") == 17);
  CHECK(inches("7-1/4") == 7.25);
  CHECK(inches("7 1/4 in") == 7.25);
  CHECK(inches("8'4\"") == 100);
  CHECK(inches("43 cm") == 16.929);  // 43 / 2.54 = 16.92913, to a thousandth
  CHECK(inches("10,5") == 10.5);
  CHECK(inches("\u00d8 12 in") == 12);
  CHECK(inches("12 inches across") == 12);
  CHECK(inches("~12 in") == 12);
  CHECK(inches("8-10 in") == 9);
  CHECK(inches("8 to 10") == 9);
  for (const char* bad : {"", "huge", "-3", "0", "4-Mar", "1,200", "3 4 5", "10-8", "x", "in"})
    CHECK(inches(bad) == -1);
  CHECK(sizeFromText("30", Units::centimetre, Units::inch)->length.value == 11.811);  // 30 / 2.54
  const auto leaf = sizeFromText("4 x 9 cm", Units::inch, Units::centimetre);
  REQUIRE(leaf);
  CHECK(leaf->length.value == 9);
  CHECK(leaf->width->value == 4);
  CHECK(sizeFromText("about 9", Units::inch, Units::inch)->guessed == "about");
  CHECK(sizeFromText("9", Units::inch, Units::inch)->guessed.empty());
}

TEST_CASE("dates that a spreadsheet made of sizes are told from sizes") {
  for (const char* date : {"4-Mar", "Mar-04", "4 March 2026", "04/03/2026", "2026-03-04", "4.3.2026",
                           "3/4/26", "2026-03-04 00:00:00", "04-Mar-26"})
    CHECK_MESSAGE(looksLikeDate(date), date);
  for (const char* size : {"7-1/4", "3/4", "17", "8'4\"", "7 1/4", "43 cm", "4-5", "March rose", "1.5",
                           "13/14/2026x", "32.40.2026", ""})
    CHECK_MESSAGE(!looksLikeDate(size), size);
}

TEST_CASE("counts are whole") {
  const auto count = [](const char* text) {
    const auto found = countFromText(text);
    return found ? found->count : -1;
  };
  CHECK(count("12") == 12);
  CHECK(count("12 pcs") == 12);
  CHECK(count("x12") == 12);
  CHECK(count("12.0") == 12);
  CHECK(count("12,00") == 12);
  CHECK(count("1,200") == 1200);
  CHECK(count("1.200") == 1200);
  CHECK(count("1 200") == 1200);
  CHECK(count("a dozen") == 12);
  CHECK(count("1 doz") == 12);
  CHECK(count("2 doz.") == 24);
  CHECK(count("3 Dozen") == 36);
  CHECK(count("half a dozen") == 6);
  CHECK(count("six") == 6);
  CHECK(count("two dozen") == 24);
  CHECK(count("~30") == 30);
  CHECK(count("0") == 0);
  for (const char* bad : {"", "2.5", "2,5", "many", "-3", "12 13", "1,20", "1e5", "1234567", "3-4",
                          "999999 doz", "dozen dozen", "doz"})
    CHECK_MESSAGE(count(bad) == -1, bad);
  CHECK(countFromText("3 per panel")->per_panel);
  CHECK(countFromText("~30")->about);
  CHECK(countFromText("1.200")->about);  // may have been 1.2
  CHECK_FALSE(countFromText("12.0")->about);
}

TEST_CASE("amounts take decimals of either kind and fractions") {
  CHECK(amountFromText("1.5") == 1.5);
  CHECK(amountFromText("1,5") == 1.5);
  CHECK(amountFromText("1 1/2 sheets") == 1.5);
  CHECK(amountFromText("50 min") == 50);
  CHECK_FALSE(amountFromText("-1"));
  CHECK_FALSE(amountFromText("3 in"));
  CHECK_FALSE(amountFromText("some"));
}

TEST_CASE("colours by name, hex and words around them") {
  // CSS Color Module Level 4, 6.1 Named Colors (W3C): rebeccapurple #663399, lightcoral #f08080,
  // darkseagreen #8fbc8f, papayawhip #ffefd5, lightslategrey #778899.
  CHECK(cssColour("rebeccapurple") == Colour{0x66, 0x33, 0x99});
  CHECK(cssColour("Light Coral") == Colour{0xf0, 0x80, 0x80});
  CHECK(cssColour("darkSeaGreen") == Colour{0x8f, 0xbc, 0x8f});
  CHECK(cssColour("papaya-whip") == Colour{0xff, 0xef, 0xd5});
  CHECK(cssColour("lightslategrey") == cssColour("lightslategray"));
  CHECK(cssColour("lightslategrey") == Colour{0x77, 0x88, 0x99});
  CHECK_FALSE(cssColour("blush"));

  const auto two = coloursFromText("#B5382A and ivory");
  CHECK(two.text.colours == std::vector<Colour>{{0xb5, 0x38, 0x2a}, {0xff, 0xff, 0xf0}});
  CHECK(two.text.guessed.empty());
  CHECK(coloursFromText("b5382a").text.colours == std::vector<Colour>{{0xb5, 0x38, 0x2a}});
  CHECK(coloursFromText("red / Red").text.colours.size() == 1);
  CHECK(coloursFromText("pinks").text.colours == coloursFromText("pink").text.colours);
  const auto blush = coloursFromText("blush");
  CHECK(blush.text.colours.size() == 1);
  CHECK(blush.text.guessed == "blush");
  CHECK(coloursFromText("textured gold card").text.colours == std::vector<Colour>{*cssColour("gold")});
  CHECK(coloursFromText("textured gold card").text.guessed == "textured gold card");
  CHECK(coloursFromText("assorted").text.assorted);
  CHECK(coloursFromText("assorted pinks").text.colours.size() == 4);
  const auto unknown = coloursFromText("corel, xyzzy");
  REQUIRE(unknown.unknown.size() == 2);
  CHECK(unknown.unknown[0].suggestion == ", did you mean \"coral\"?");
  CHECK(unknown.unknown[1].suggestion.empty());
  // Half of the way from 255, 192, 203 to white at 0.45.
  CHECK(coloursFromText("pale coral").text.colours == std::vector<Colour>{{255, 185, 159}});
}

TEST_CASE("shapes come from words, depths and petals lie in the usual ranges") {
  const auto shape = [](const char* text) { return shapeFromWords(text)->shape; };
  CHECK(shape("Ember dahlia") == Shape::dahlia);
  CHECK(shape("Cone dahlias") == Shape::coneDahlia);
  CHECK(shape("Peonies, blush") == Shape::peony);
  CHECK(shape("rose buds") == Shape::bud);
  CHECK(shape("garden roses") == Shape::rose);
  CHECK(shape("Rosettes") == Shape::rosette);
  CHECK(shape("Leaves") == Shape::leaf);
  CHECK(shape("Eucalyptus") == Shape::leafSpray);
  CHECK(shape("pom-poms") == Shape::pompom);
  CHECK(shapeFromWords("leaf spray")->why.empty());
  CHECK(shapeFromWords("leaf spray, long")->why == "by its name");
  CHECK_FALSE(shapeFromWords("Ember"));
  CHECK(shapeNearTo("dalia") == Shape::dahlia);

  // Depth as a share of the diameter and petals of a ring, as paper blooms are usually built; common
  // practice, no source.
  struct Range {
    Shape shape;
    double depth_min, depth_max;
    int petals_min, petals_max;
  };
  const std::vector<Range> ranges{
      {Shape::dahlia, 0.22, 0.35, 8, 16},    {Shape::coneDahlia, 0.18, 0.28, 12, 18},
      {Shape::peony, 0.35, 0.5, 5, 7},       {Shape::rose, 0.4, 0.55, 0, 0},
      {Shape::petalBloom, 0.22, 0.32, 5, 9}, {Shape::bud, 0.45, 0.6, 0, 0},
      {Shape::pompom, 0.45, 0.55, 0, 0},     {Shape::rosette, 0.05, 0.1, 24, 48},
      {Shape::daisy, 0.1, 0.18, 10, 16},     {Shape::leaf, 0.08, 0.15, 0, 0},
      {Shape::leafSpray, 0.08, 0.15, 5, 9},  {Shape::fern, 0.05, 0.1, 10, 16},
  };
  for (const Range& range : ranges) {
    CAPTURE(nameOf(range.shape));
    for (const Units units : {Units::inch, Units::centimetre, Units::millimetre}) {
      for (double mm = 20; mm < 900; mm *= 1.17) {
        const Length diameter{mm / millimetresPer(units)};
        const double depth = guessedDepth(range.shape, diameter, units).value;
        CHECK(depth >= range.depth_min * diameter.value);
        CHECK(depth <= range.depth_max * diameter.value);
        const auto petals = guessedPetals(range.shape, mm);
        CHECK(petals.has_value() == (range.petals_min > 0));
        CHECK(petals.value_or(0) >= range.petals_min);
        CHECK(petals.value_or(0) <= range.petals_max);
      }
    }
  }
  CHECK(guessedDepth(Shape::dahlia, {12}, Units::inch).value == 3.375);  // 0.28 of it, to an eighth
}

TEST_CASE("a leaf sticks by the end of its stalk, a short one by a share of its length") {
  CHECK(leafPlate({10}, Units::inch).value == 1);
  CHECK(leafPlate({30}, Units::centimetre).value == 2.5);
  CHECK(leafPlate({300}, Units::millimetre).value == 25);
  CHECK(leafPlate({2}, Units::inch).value == 0.5);  // 0.6, to an eighth
  CHECK(leafPlate({5}, Units::centimetre).value == 1.5);
  CHECK(leafPlate({51}, Units::millimetre).value == 15);                  // 15.3
  CHECK(leafPlate({0.25}, Units::inch).value == doctest::Approx(0.075));  // under a mark
}

TEST_CASE("cells of a grid say what hangs and which way up") {
  const auto cell = [](const char* text) { return gridCellFrom(text).cell; };
  CHECK((cell("sun") == Cell{"sun", false}));
  for (const char* way :
       {"sun upside down", "sun (upside down)", "sun UPSIDE-DOWN", "sun u/d", "sun - inverted",
        "sun, flipped", "sun 180", "sun ud", "upside down sun", "sun \u2193", "sun [rotated]"})
    CHECK_MESSAGE((cell(way) == Cell{"sun", true}), way);
  for (const char* empty : {"", "-", "none", "Empty", "no panel", "\u2014"})
    CHECK_MESSAGE(!cell(empty).hasPanel(), empty);
  for (const char* name : {"cloud", "flipped", "180", "mud", "sun 2", "inv", "upside down"})
    CHECK_MESSAGE((cell(name) == Cell{name, false}), name);
  CHECK_FALSE(gridCellFrom("sun upside down").shortened);
  CHECK(gridCellFrom("sun u/d").shortened);
}

TEST_CASE("headings in their usual spellings") {
  const auto meaning = [](const char* text) { return headingFrom(text, Slips::forgiven)->meaning; };
  for (const char* text : {"Flower", "Bloom", "Bloom name", "Item", "FLOWERS"})
    CHECK(meaning(text) == Meaning::name);
  for (const char* text : {"Size", "Diameter (in)", "Flower size", "dia.", "\u00d8 cm", "Length", "diamter"})
    CHECK(meaning(text) == Meaning::size);
  for (const char* text :
       {"Qty", "QTY.", "Count", "Number of flowers", "How many?", "Pcs", "Quantity needed", "#"})
    CHECK_MESSAGE(meaning(text) == Meaning::count, text);
  for (const char* text : {"Colour", "Color(s)", "Card colour", "Shade", "Petal color"})
    CHECK(meaning(text) == Meaning::colour);
  for (const char* text : {"Card", "Cardstock", "Paper"}) CHECK(meaning(text) == Meaning::card);
  for (const char* text : {"Sheets", "No. of sheets", "Sheets of card"})
    CHECK(meaning(text) == Meaning::sheets);
  CHECK(meaning("Filler?") == Meaning::filler);
  CHECK(meaning("Minutes each") == Meaning::minutes);
  CHECK(meaning("Mins") == Meaning::minutes);
  CHECK(meaning("Adhesive strips") == Meaning::strips);
  CHECK(meaning("Layout") == Meaning::layout);
  CHECK(meaning("Type") == Meaning::shape);
  CHECK(headingFrom("Qty per panel", Slips::refused)->per_panel);
  CHECK(headingFrom("Qty per panel", Slips::refused)->meaning == Meaning::count);
  CHECK(headingFrom("Total sheets", Slips::refused)->in_all);
  CHECK(headingFrom("Size (cm)", Slips::refused)->units == Units::centimetre);
  CHECK_FALSE(headingFrom("Quanity", Slips::refused));
  CHECK_FALSE(headingFrom("Lantern Supper", Slips::forgiven));
}

TEST_CASE("text of every encoding comes out as UTF-8") {
  const auto text = [](std::string bytes) { return *tableText({"t.csv", std::move(bytes)}).value; };
  CHECK(text("\xEF\xBB\xBF"
             "a\r\nb\rc") == "a\nb\nc");
  CHECK(text(std::string("\xFF\xFE"
                         "a\0\xe9\0",
                         6)) == "a\u00e9");
  CHECK(text(std::string("\xFE\xFF\0a\0\xe9", 6)) == "a\u00e9");
  CHECK(text(std::string("a\0,\0b\0,\0", 8)) == "a,b,");
  CHECK(text(std::string("\xFF\xFE\x3d\xd8\x38\xdf", 6)) == "\U0001F738");  // a pair: U+1F738
  // Half of a pair alone, in the middle and at the end, and half of a unit.
  CHECK(text(std::string("\xFF\xFE\x3d\xd8"
                         "a\0",
                         6)) ==
        "\ufffd"
        "a");
  CHECK(text(std::string("\xFF\xFE"
                         "a\0\x3d\xd8",
                         6)) == "a\ufffd");
  CHECK(text(std::string("\xFE\xFF\0a\xdf", 5)) == "a");
  CHECK(text("caf\xe9 \x80") == "caf\u00e9 \u20ac");
  CHECK_FALSE(tableText({"t.csv", "caf\xe9 \x81"}));  // Windows-1252 has no letter there
  CHECK(tableText({"t.csv", "caf\xe9"}).warnings.size() == 1);
  CHECK(tableText({"t.csv", "caf\u00e9"}).warnings.empty());
  CHECK_FALSE(tableText({"t.csv", std::string("a\0\0\0b", 5)}));
  CHECK_FALSE(tableText({"t.csv", "PK\x03\x04"}));
}

TEST_CASE("a width and a height are read as people write them") {
  const Size inches{{24}, {20}};
  for (const char* text :
       {"24x20", "24 x 20 in", "24\u00d720", "24,20", "24\" x 20\"", "2' x 20\"", "24 by 20"})
    CHECK_MESSAGE(widthAndHeight(text, Units::inch) == inches, text);
  CHECK(widthAndHeight("60,5 x 50", Units::centimetre) == Size{{60.5}, {50}});
  CHECK(widthAndHeight("24x20 in", Units::centimetre) == Size{{60.96}, {50.8}});
  for (const char* text :
       {"", "24", "24x", "x20", "0x20", "24x-20", "24x20x3", "1e9x3", "a x b", "99999999x1"})
    CHECK_MESSAGE(!widthAndHeight(text, Units::inch), text);
}

TEST_CASE("a wall of a size is made of whole panels") {
  // 96 / 20 = 4.8 and 96 / 16 = 6: five across, six down.
  const PanelCount count = panelsNearest({{96}, {96}}, {{20}, {16}});
  CHECK(count.columns == 5);
  CHECK(count.rows == 6);
  Wall wall = defaultWall(Units::inch);
  wall.columns = count.columns;
  wall.rows = count.rows;
  wall.panel = {{20}, {16}};
  CHECK(whatItComesTo(wall, Size{{96}, {96}}, Units::inch) ==
        "5 \u00d7 6 panels of 20 \u00d7 16 in: 100 \u00d7 96 in, 4 in wider than asked; the open seams add "
        "1/4 in "
        "across and 3/8 in down");
  wall.seam = {0};
  CHECK(whatItComesTo(wall, Size{{100}, {97.5}}, Units::inch) ==
        "5 \u00d7 6 panels of 20 \u00d7 16 in: 100 \u00d7 96 in, 1 1/2 in lower than asked");
  CHECK(whatItComesTo(wall, Size{{100}, {96}}, Units::inch) ==
        "5 \u00d7 6 panels of 20 \u00d7 16 in: 100 \u00d7 96 in, as asked");
  CHECK(panelsNearest({{1}, {1}}, {{20}, {16}}).columns == 1);
  CHECK(panelsNearest({{1e9}, {1}}, {{20}, {16}}).columns == 200);
  // 1.3 times the board of 12 panels of 500 x 500 mm: four by three or three by four.
  const PanelCount filled = panelsForArea(1.3 * 12 * 250'000, {{500}, {500}}, Units::millimetre);
  CHECK(filled.columns * filled.rows == 12);
}
