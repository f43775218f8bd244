// What the views reckon with, without a window: where things lie, and what fits.

#include "engine/camera/projection.h"
#include "viewer/window/client_picture.h"
#include "viewer/window/lens_view.h"
#include "viewer/window/markdown.h"
#include "viewer/window/panel_hand.h"
#include "viewer/window/panels/fields.h"
#include "viewer/window/screen_layout.h"
#include "viewer/window/styled_words.h"
#include "viewer/window/tape.h"
#include "viewer/window/wall_drawing.h"

#include "tests/support/random_wall.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <array>
#include <filesystem>
#include <fstream>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::camera;
using namespace petalproof::picture;
using namespace petalproof::window;

namespace {

bool overlap(const Area& a, const Area& b) {
  return a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y;
}

}  // namespace

TEST_CASE("the parts of the screen lie beside each other, inside the window, none too small") {
  for (const float scale : {1.0F, 1.5F, 2.0F})
    for (const ImVec2 size : {ImVec2(1024, 700), ImVec2(1366, 768), ImVec2(1920, 1080), ImVec2(3840, 2160)}) {
      const ImVec2 window(size.x * scale, size.y * scale);
      const ScreenLayout layout = layOutScreen(window, scale);
      const std::array<Area, 5> parts{layout.top, layout.main, layout.floor_plan, layout.notes,
                                      layout.prints};
      for (std::size_t k = 0; k < parts.size(); ++k) {
        CHECK(parts[k].min.x >= 0);
        CHECK(parts[k].min.y >= 0);
        CHECK(parts[k].max.x <= window.x);
        CHECK(parts[k].max.y <= window.y);
        for (std::size_t j = 0; j < k; ++j) CHECK(!overlap(parts[k], parts[j]));
      }
      CHECK(layout.main.width() >= 600 * scale);
      CHECK(layout.main.height() >= 400 * scale);
      CHECK(layout.notes.width() >= 290 * scale);
      CHECK(layout.notes.height() >= 380 * scale);
    }
}

// Dear ImGui without a window: what it draws nobody sees.
class Widgets {
 public:
  Widgets() {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplaySize = {400, 300};
    unsigned char* pixels = nullptr;
    int width = 0;
    int height = 0;
    io.Fonts->GetTexDataAsRGBA32(&pixels, &width, &height);
  }
  ~Widgets() { ImGui::DestroyContext(); }
  Widgets(const Widgets&) = delete;
  Widgets& operator=(const Widgets&) = delete;

  template <class Draw>
  void frame(const Draw& draw) const {
    ImGui::NewFrame();
    ImGui::Begin("fields");
    draw();
    ImGui::End();
    ImGui::EndFrame();
  }
};

TEST_CASE("fields that nobody types in say nothing") {
  const Widgets widgets;
  Fields fields;
  for (int k = 0; k < 4; ++k)
    widgets.frame([&] {
      CHECK(!fields.length("a", {7.25}, Units::inch, 60));
      CHECK(!fields.usualLength("b", Length{3}, Units::inch, 60));
      CHECK(!fields.usualLength("c", std::nullopt, Units::inch, 60));
      CHECK(!fields.number("d", 85, 1, 60));
      CHECK(!fields.optionalNumber("e", 200.0, 1, 60));
      CHECK(!fields.optionalNumber("f", std::nullopt, 1, 60));
      CHECK(!fields.whole("g", 4, 60));
      CHECK(!fields.usualWhole("h", 12, 60));
      CHECK(!fields.usualWhole("i", std::nullopt, 60));
      CHECK(!fields.text("j", "sun", 60));
    });
}

// Types into the only field of a frame: goes there, replaces what stands in it, and goes away.
template <class Field>
auto typed(const Widgets& widgets, const char* text, const Field& field) {
  decltype(field()) last;
  const auto draw = [&](bool into) {
    widgets.frame([&] {
      if (into) ImGui::SetKeyboardFocusHere();
      if (auto said = field()) last = said;
    });
  };
  draw(true);
  draw(false);
  draw(false);
  for (const char* letter = text; *letter != '\0'; ++letter)
    ImGui::GetIO().AddInputCharacter(static_cast<unsigned char>(*letter));
  draw(false);
  widgets.frame([&] {
    ImGui::SetWindowFocus(nullptr);
    if (auto said = field()) last = said;
  });
  draw(false);
  return last;
}

TEST_CASE("what is typed is said once, in the field's own form; what can't be read is not") {
  const Widgets widgets;
  Fields fields;
  const auto length = typed(widgets, "7 1/4", [&] { return fields.length("a", {3}, Units::inch, 60); });
  REQUIRE(length);
  CHECK(length->value == 7.25);
  const auto in_cm = typed(widgets, "18 cm", [&] { return fields.length("b", {3}, Units::inch, 60); });
  REQUIRE(in_cm);
  CHECK(in_cm->value == doctest::Approx(18 / 2.54));
  const auto number = typed(widgets, "35 mm", [&] { return fields.number("c", 85, 1, 60, {"mm"}); });
  REQUIRE(number);
  CHECK(*number == 35);
  CHECK(!typed(widgets, "wide", [&] { return fields.number("d", 85, 1, 60); }));
  CHECK(!typed(widgets, "7 1/0", [&] { return fields.usualLength("e", Length{3}, Units::inch, 60); }));
  const auto usual = typed(widgets, " ", [&] { return fields.usualLength("f", Length{3}, Units::inch, 60); });
  REQUIRE(usual);
  CHECK(!*usual);
}

TEST_CASE("numbers on a tape are whole ones, as short as the tape down the side is wide") {
  CHECK(numberOnTape(1000, Units::centimetre) == "100");
  CHECK(numberOnTape(48 * 25.4, Units::inch) == "48");
  CHECK(numberOnTape(2500, Units::millimetre) == "2500");
  CHECK(numberOnTape(0, Units::inch) == "0");
  constexpr float letter = 7;  // of the small font, at scale 1
  constexpr float beside = 9;
  for (const Units units : {Units::inch, Units::centimetre, Units::millimetre})
    for (double mm = 10; mm < 1e5; mm *= 3)
      CHECK(static_cast<float>(numberOnTape(mm, units).size()) * letter + beside <=
            sideTapeWidth(mm, units) + 1);
}

TEST_CASE("numbers on a tape stand as far apart as asked, in steps a tape has") {
  CHECK(tapeStepMm(1, Units::inch, 30) == doctest::Approx(2 * 25.4));
  CHECK(tapeStepMm(1, Units::inch, 60) == doctest::Approx(4 * 25.4));
  CHECK(tapeStepMm(0.1, Units::inch, 60) == doctest::Approx(24 * 25.4));
  CHECK(tapeStepMm(1, Units::centimetre, 60) == doctest::Approx(100));
  CHECK(tapeStepMm(1, Units::millimetre, 45) == doctest::Approx(50));
  for (const Units units : {Units::inch, Units::centimetre, Units::millimetre})
    for (double px_per_mm = 0.001; px_per_mm < 20; px_per_mm *= 1.7)
      CHECK(tapeStepMm(px_per_mm, units, 40) * px_per_mm >= 40);
}

TEST_CASE("the whole wall fits into the drawing, and a place there and back is the same") {
  const PanelGrid panels = petalproof::testing::randomWall(petalproof::testing::smallWall(1)).panels;
  for (const Area& area : {Area{{10, 50}, {710, 550}}, Area{{0, 0}, {300, 900}}}) {
    const DrawingScale scale = fittingScale(area, panels, 20);
    const ImVec2 low = scale.screenOf({0, 0});
    const ImVec2 high = scale.screenOf({panels.width_mm(), panels.height_mm()});
    CHECK(low.x >= area.min.x + 19.9F);
    CHECK(high.x <= area.max.x - 19.9F);
    CHECK(high.y >= area.min.y + 19.9F);  // y of the wall is up, of the screen down
    CHECK(low.y <= area.max.y - 19.9F);
    const bool touches = low.x < area.min.x + 20.1F || high.y < area.min.y + 20.1F;
    CHECK(touches);
    const glm::dvec2 place(1234.5, 678.9);
    CHECK(glm::distance(scale.boardOf(scale.screenOf(place)), place) < 0.01);
  }
}

TEST_CASE("what hangs over the wall's edges is in the drawing, too, and takes room only where it needs it") {
  const Scene scene = petalproof::testing::randomWall(petalproof::testing::smallWall(1));
  const glm::dvec2 over = overhangOf(scene);
  const Area area{{10, 50}, {710, 550}};
  const DrawingScale plain = fittingScale(area, scene.panels, 20);
  CHECK(fittingScale(area, scene.panels, 20, {1, 1}).px_per_mm == plain.px_per_mm);
  const DrawingScale scale = fittingScale(area, scene.panels, 20, over);
  CHECK(scale.px_per_mm <= plain.px_per_mm);
  for (const BloomInstance& bloom : scene.blooms) {
    const double r = bloom.diameter_mm / 2;
    const ImVec2 low = scale.screenOf(bloom.at_mm - glm::dvec2(r));
    const ImVec2 high = scale.screenOf(bloom.at_mm + glm::dvec2(r));
    CHECK(low.x >= area.min.x);
    CHECK(high.x <= area.max.x);
    CHECK(high.y >= area.min.y);
    CHECK(low.y <= area.max.y);
  }
}

TEST_CASE("each place of the wall belongs to one cell, slits to the one left of them or above") {
  const PanelGrid panels{3, 2, 400, 300, 10, 5, 0, false, Grid<std::uint8_t>(3, 2, 1)};
  const auto cell = [&](double x, double y) { return cellAt(panels, {x, y}).value_or(app::CellRef{-9, -9}); };
  CHECK((cell(1, 609) == app::CellRef{0, 0}));
  CHECK((cell(405, 400) == app::CellRef{0, 0}));
  CHECK((cell(411, 305) == app::CellRef{1, 0}));
  CHECK((cell(411, 299) == app::CellRef{1, 1}));
  CHECK((cell(1220, 0) == app::CellRef{2, 1}));
  CHECK((cell(-1, 10) == app::CellRef{-9, -9}));
  CHECK((cell(10, 611) == app::CellRef{-9, -9}));
}

TEST_CASE("a frame with more around it shows the same places") {
  const PanelGrid panels = petalproof::testing::randomWall(petalproof::testing::smallWall(2)).panels;
  const Camera camera = petalproof::testing::cameraOnWall(panels, 6, 25);
  const Camera wide = widened(camera, 500, 900, 700);
  const double scale = 500.0 / camera.width_px;
  for (const glm::dvec2& place : {glm::dvec2(200, 300), glm::dvec2(1500, 900), glm::dvec2(3000, 2000)}) {
    const auto in_frame = project(camera, {glm::dvec3(place, 0)});
    const auto in_wide = project(wide, {glm::dvec3(place, 0)});
    REQUIRE(in_frame);
    REQUIRE(in_wide);
    const glm::dvec2 frame_corner(450 - 250.0, 350 - scale * camera.height_px / 2);
    CHECK(glm::distance(in_wide->px, frame_corner + scale * in_frame->px) < 1e-6);
  }
}

TEST_CASE("a client's picture is as long as was asked for, to the pixel") {
  app::State state;
  LoadedPlan loaded;
  loaded.plan.wall.columns = loaded.plan.wall.rows = 1;
  loaded.plan.wall.panel = {{20}, {20}};
  state.now.plan = std::make_shared<const LoadedPlan>(std::move(loaded));
  state.view.blur = false;
  const PanelGrid panels = petalproof::testing::randomWall(petalproof::testing::smallWall(2)).panels;
  for (const glm::ivec2& size : {glm::ivec2(4000, 5000), glm::ivec2(5000, 4000), glm::ivec2(6000, 4000),
                                 glm::ivec2(2999, 4001), glm::ivec2(777, 778), glm::ivec2(500, 500)}) {
    Camera camera = petalproof::testing::cameraOnWall(panels, 6, 25);
    camera.width_px = size.x;
    camera.height_px = size.y;
    for (const int longest : {8192, 4096, 641}) {
      const gl::View view = deliveredPicture(state, panels, camera, longest).view;
      CAPTURE(size.x);
      CAPTURE(longest);
      CHECK(std::max(view.width_px, view.height_px) == longest);
      const double shorter =
          static_cast<double>(longest) * std::min(size.x, size.y) / std::max(size.x, size.y);
      CHECK(std::abs(std::min(view.width_px, view.height_px) - shorter) <= 1);
    }
  }
}

TEST_CASE("a client's picture never takes the name of a file that is there") {
  namespace fs = std::filesystem;
  const fs::path folder = fs::temp_directory_path() / "petalproof-client-picture-test";
  fs::remove_all(folder);
  fs::create_directories(folder);
  const fs::path plan = folder / "wall.toml";
  CHECK(pictureFile(plan, "whole wall", 4096) == folder / "wall-whole-wall-4096.png");
  std::ofstream(folder / "wall-whole-wall-4096.png") << "somebody's";
  CHECK(pictureFile(plan, "whole wall", 4096) == folder / "wall-whole-wall-4096-2.png");
  CHECK(pictureFile(plan, "a/b", 800) == folder / "wall-a-b-800.png");
  fs::remove_all(folder);
}

TEST_CASE("a page of Markdown is read as blocks") {
  const auto page = parseMarkdown(
      "# Title\n\nA **bold** and `code` [link](b.md#c).\n\n- first\n  - inner\n\n3. third\n4. fourth\n\n"
      "```toml a.toml\nx = 1\n\ny = 2\n```\n\n| key | means |\n| --- | --- |\n| `a\\|b` | c |\n");
  REQUIRE(page.size() == 8);
  CHECK(page[0].kind == MarkdownKind::heading);
  CHECK(page[0].level == 1);
  CHECK(plainText(page[1].line) == "A bold and code link.");
  CHECK(page[1].line[1].bold);
  CHECK(page[1].line[3].code);
  CHECK(page[1].line[5].link == "b.md#c");
  CHECK(page[2].marker == "\u2022");
  CHECK(page[2].level == 1);
  CHECK(page[3].level == 2);
  CHECK(page[4].marker == "3.");
  CHECK(page[5].marker == "4.");
  CHECK(page[6].info == "toml a.toml");
  CHECK(page[6].code == "x = 1\n\ny = 2\n");
  REQUIRE(page[7].table.size() == 2);
  CHECK(plainText(page[7].table[1][0]) == "a|b");
  CHECK(page[7].table[1][0][0].code);
}

TEST_CASE("a further paragraph of an item has no marker") {
  const auto page = parseMarkdown("- one\n\n  two\n- three\n");
  REQUIRE(page.size() == 3);
  CHECK(page[1].kind == MarkdownKind::item);
  CHECK(page[1].marker.empty());
  CHECK(plainText(page[2].line) == "three");
  CHECK(headingAnchor("The wall: [wall] & `a_b`-c") == "the-wall-wall--a_b-c");
}

TEST_CASE("lines break only where there is a space") {
  const Widgets widgets;
  widgets.frame([] {
    Fonts fonts;
    fonts.text = fonts.bold = fonts.mono = ImGui::GetFont();
    // Dear ImGui's own letters are all as wide.
    const auto page = parseMarkdown("ab **cd**, efg");
    const auto words = styledWords(page[0].line, fonts, fonts.text);
    REQUIRE(words.size() == 4);
    const float letter = words[0].width / 2;
    CHECK(words[2].text == ",");
    CHECK(words[2].space_before == 0);
    CHECK(words[3].space_before == letter);
    const WordWidths widths = widthsOf(words);
    CHECK(widths.all == 10 * letter);
    CHECK(widths.longest == 3 * letter);
  });
}
