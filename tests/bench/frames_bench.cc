#include "tests/bench/frames_bench.h"

#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"
#include "tests/bench/pairs.h"
#include "tests/bench/pass_times.h"
#include "tests/support/random_wall.h"
#include "viewer/gl/headless.h"
#include "viewer/gl/wall_renderer.h"

#include <fmt/format.h>

#include <array>
#include <cstdint>
#include <cstdio>
#include <functional>
#include <optional>
#include <vector>

namespace petalproof::bench {
namespace {

struct Size {
  const char* name;
  int width_px;
  int height_px;
};

constexpr std::array<Size, 2> sizes{{{"1080p", 1920, 1080}, {"4K", 3840, 2160}}};

std::optional<gl::HeadlessContext> contextOn(const std::string& device) {
  if (device != "processor")
    if (auto context = gl::HeadlessContext::make(gl::HeadlessDevice::card)) return context;
  if (device == "card") return std::nullopt;
  return gl::HeadlessContext::make(gl::HeadlessDevice::processor);
}

// Somebody who walks by, so far out that the wall fills the picture.
gl::View viewOfFrame(const scene::PanelGrid& panels, const Size& size, int frame) {
  const double across = 0.5 + 0.002 * frame;
  const double out = 0.9 * panels.width_mm();
  const camera::Camera eye = gl::eyeCamera({{across * panels.width_mm(), 0.5 * panels.height_mm(), out}},
                                           3 - 0.1 * frame, 0, 58, size.width_px, size.height_px);
  return gl::viewOf(eye, panels);
}

double millions(std::uint64_t count) { return static_cast<double>(count) / 1e6; }

double medianMs(int frames, const std::function<void(int)>& draw) {
  std::vector<double> times;
  for (int k = 0; k < frames; ++k)
    times.push_back(milliseconds([&] {
      draw(k);
      glFinish();
    }));
  return median(times);
}

struct Manner {
  const char* name;
  int samples;
  bool moves;  // no more pixels than pictures in motion have, enlarged onto one of the size asked for
  gl::Look look;
};

// As the window draws what rests, and what moves.
std::array<Manner, 2> manners() {
  Manner fine{"fine", 4, false, {}};
  fine.look.coarse_px = 0.6F;
  Manner moving{"moving", 1, true, {}};
  moving.look.coarse_px = 3;
  return {fine, moving};
}

// Pictures of one size, one after the other.
class Frames {
 public:
  Frames(gl::WallRenderer& wall, const scene::PanelGrid& panels, const Size& size, const Manner& manner)
      : wall_(wall), panels_(panels), size_(size), manner_(manner), canvas_(manner.samples), screen_(1) {
    const gl::View first = viewOf(0);
    canvas_.resize(first.width_px, first.height_px);
    screen_.resize(size.width_px, size.height_px);
  }

  void drawNothing() {
    const std::array<float, 4> paper{1, 1, 1, 1};
    const float far = 1;
    canvas_.begin();
    glClearBufferfv(GL_COLOR, 0, paper.data());
    glClearBufferfv(GL_DEPTH, 0, &far);
    finish();
  }
  // `begins`: told of each pass; may be empty.
  void draw(int frame, const gl::PassListener& begins) {
    wall_.draw(viewOf(frame), manner_.look, canvas_, begins);
    if (begins) begins("finish");
    finish();
  }

 private:
  gl::View viewOf(int frame) const {
    const gl::View whole = viewOfFrame(panels_, size_, frame);
    return manner_.moves ? gl::smaller(whole, gl::shareInMotion(whole)) : whole;
  }
  void finish() {
    canvas_.finish();
    if (canvas_.width_px() != size_.width_px) screen_.enlarge(canvas_);
  }

  gl::WallRenderer& wall_;
  const scene::PanelGrid& panels_;
  Size size_;
  Manner manner_;
  gl::Canvas canvas_;
  gl::Canvas screen_;
};

// Of each pass, what it takes of the card; those that nothing was drawn in are left out.
void printPasses(Frames& pictures, int frames) {
  PassTimes times;
  for (int k = 0; k < frames; ++k) {
    pictures.draw(k, [&times](const char* pass) { times.next(pass); });
    times.endPicture();
  }
  for (const PassFacts& pass : times.facts()) {
    constexpr double hardly_ms = 0.005;
    if (pass.samples == 0 && pass.ms < hardly_ms) continue;
    fmt::print("         {:<8}{:>8.3f} ms {:>8.2f} M samples", pass.name, pass.ms, millions(pass.samples));
    if (pass.fragments > 0)
      fmt::print(" {:>7.2f} M fragments {:>6.3f} M vertices", millions(pass.fragments),
                 millions(pass.vertices));
    fmt::print("\n");
  }
}

void timeManner(gl::WallRenderer& wall, const scene::Scene& scene, const Size& size, const Manner& manner,
                const char* name, int frames) {
  Frames pictures(wall, scene.panels, size, manner);
  const auto empty = [&](int) { pictures.drawNothing(); };
  const auto draw = [&](int frame) { pictures.draw(frame, {}); };
  empty(0);
  draw(0);  // the light's maps are drawn once for a wall
  const double nothing = medianMs(frames, empty);
  const double drawn = medianMs(frames, draw);
  fmt::print("{:<6} {:<6} {:<7} {:>9.2f} {:>9.2f} {:>8.1f} x\n", name, size.name, manner.name, nothing, drawn,
             drawn / nothing);
  printPasses(pictures, frames);
  std::fflush(stdout);
}

void timeWall(const char* name, const scene::Scene& scene, int frames) {
  gl::WallRenderer wall;
  const double sent = milliseconds([&] {
    wall.setScene(scene);
    glFinish();
  });
  fmt::print("{}: {} blooms, sent in {:.1f} ms\n", name, scene.blooms.size(), sent);
  for (const Size& size : sizes)
    for (const Manner& manner : manners()) timeManner(wall, scene, size, manner, name, frames);
}

}  // namespace

int timeFrames(const std::string& device, int frames) {
  const auto context = contextOn(device);
  if (!context) {
    fmt::print(stderr, "there is no such OpenGL here\n");
    return 1;
  }
  fmt::print("Frames, 4 samples a pixel (1 in motion), medians of {}; below each its passes. OpenGL: {}\n",
             frames, context->renderer());
  fmt::print("{:<6} {:<6} {:<7} {:>9} {:>9} {:>10}\n", "wall", "size", "drawn", "empty, ms", "whole, ms",
             "/ empty");
  const auto loaded = plan::loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  if (!loaded) return 1;
  const auto demo = scene::buildScene(*loaded.value);
  if (!demo) return 1;
  timeWall("demo", *demo.value, frames);
  timeWall("480", testing::randomWall(testing::largeWall(1)), frames);
  return 0;
}

}  // namespace petalproof::bench
