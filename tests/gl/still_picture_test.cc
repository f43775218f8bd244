// Pictures of a wall on which blooms are moved: what stands still is drawn once, and the picture is the same.

#include "viewer/gl/still_picture.h"
#include "tests/gl/gl_fixture.h"
#include "viewer/gl/picture.h"

#include <doctest/doctest.h>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::testing;
using gl::Look;
using gl::View;
using gl::WallRenderer;

namespace {

struct Moving {
  DemoWall demo = demoWall();
  WallRenderer wall;
  gl::StillPicture still;
  gl::Canvas canvas{1};
  Look look;

  Moving() {
    look.coarse_px = 3;
    wall.setScene(demo.scene);
    look.keep_light = true;
  }

  void move(std::size_t bloom) {
    demo.scene.blooms[bloom].wallFromMesh[3] += glm::vec3(9, -4, 0);
    wall.setScene(demo.scene);
  }

  // Whether drawing with what stands still gives what drawing all gives.
  bool drawsTheSame(const View& view) {
    canvas.resize(view.width_px, view.height_px);
    wall.drawMoving(view, look, canvas, still);
    canvas.finish();
    gl::Canvas whole(1);
    whole.resize(view.width_px, view.height_px);
    wall.draw(view, look, whole);
    whole.finish();
    return differenceOf(canvas.image(), whole.image(), 0).largest == 0;
  }
};

View viewOf(const Moving& moving, double right_mm) {
  return gl::viewOf(gl::eyeCamera({{1400 + right_mm, 1100, 2500}}, 5, 0, 58, 480, 300),
                    moving.demo.scene.panels);
}

}  // namespace

TEST_CASE("while blooms are moved, what stands still is kept, and nothing looks otherwise") {
  const Gl opengl;
  Moving moving;
  const View view = viewOf(moving, 0);
  CHECK(moving.drawsTheSame(view));
  for (int k = 0; k < 4; ++k) {
    moving.move(17);
    CHECK(moving.drawsTheSame(view));
    CHECK(moving.still.drawn);
  }
  const std::uint64_t drawn_at = moving.still.moves;
  moving.move(17);
  CHECK(moving.drawsTheSame(view));
  CHECK(moving.still.moves == drawn_at);  // not drawn again
  // Another one moves: it is left out too, and the first stays so.
  moving.move(18);
  CHECK(moving.drawsTheSame(view));
  CHECK(moving.still.moves > drawn_at);
  CHECK(moving.still.moving[17] == 1);
  CHECK(moving.still.moving[18] == 1);
}

TEST_CASE("blooms that are held are left out of what stands still before they move") {
  const Gl opengl;
  Moving moving;
  const View view = viewOf(moving, 0);
  CHECK(moving.drawsTheSame(view));
  CHECK(!moving.still.drawn);
  std::vector<std::uint8_t> held(moving.demo.scene.blooms.size(), 0);
  held[17] = held[40] = 1;
  moving.wall.setHeld(held);
  CHECK(moving.drawsTheSame(view));
  REQUIRE(moving.still.drawn);
  CHECK(moving.still.moving == held);
  const std::uint64_t drawn_at = moving.still.moves;
  for (const std::size_t bloom : {17, 40, 17}) {
    moving.move(bloom);
    CHECK(moving.drawsTheSame(view));
    CHECK(moving.still.moves == drawn_at);
  }
}

TEST_CASE("whatever else changes is seen at once while blooms are moved") {
  const Gl opengl;
  Moving moving;
  View view = viewOf(moving, 0);
  const auto settle = [&] {
    for (int k = 0; k < 3; ++k) {
      moving.move(17);
      CHECK(moving.drawsTheSame(view));
    }
    CHECK(moving.still.drawn);
  };
  settle();
  view = viewOf(moving, 120);
  moving.move(17);
  CHECK(moving.drawsTheSame(view));

  settle();
  const std::vector<std::uint8_t> signs(30, gl::chosen_sign);
  moving.wall.setSigns(signs);
  CHECK(moving.drawsTheSame(view));

  settle();
  moving.look.people = 1;
  const Person person{{66}, {0}, {30}};
  moving.wall.setPeople({&person, 1}, moving.demo.wall);
  CHECK(moving.drawsTheSame(view));
  moving.wall.setPeople({}, moving.demo.wall);
  CHECK(moving.drawsTheSame(view));

  settle();
  moving.demo.scene.colours.board = {200, 60, 60};
  moving.wall.setScene(moving.demo.scene);
  CHECK(moving.drawsTheSame(view));

  settle();
  moving.demo.scene.blooms.pop_back();
  moving.wall.setScene(moving.demo.scene);
  CHECK(moving.drawsTheSame(view));

  // The light is made anew by a picture that doesn't keep it.
  settle();
  gl::Canvas fine;
  gl::drawOnto(fine, moving.wall, view, {});
  CHECK(moving.drawsTheSame(view));
}

TEST_CASE("people who stay where they are leave what stands still as it is") {
  const Gl opengl;
  Moving moving;
  const View view = viewOf(moving, 0);
  moving.look.people = 1;
  const Person person{{66}, {0}, {30}};
  std::vector<std::uint64_t> drawn_at;
  for (int k = 0; k < 5; ++k) {
    moving.wall.setPeople({&person, 1}, moving.demo.wall);
    moving.move(17);
    CHECK(moving.drawsTheSame(view));
    drawn_at.push_back(moving.still.moves);
  }
  CHECK(moving.still.drawn);
  CHECK(drawn_at[4] == drawn_at[1]);
}
