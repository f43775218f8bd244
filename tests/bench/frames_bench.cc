#include "tests/bench/frames_bench.h"

#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"
#include "tests/bench/pairs.h"
#include "tests/support/random_wall.h"
#include "viewer/gl/headless.h"
#include "viewer/gl/wall_renderer.h"

#include <fmt/format.h>

#include <array>
#include <cstdio>
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
gl::View viewOfFrame(const PanelGrid& panels, const Size& size, int frame) {
  const double across = 0.5 + 0.002 * frame;
  const double out = 0.9 * panels.width_mm();
  const Camera eye = gl::eyeCamera({{across * panels.width_mm(), 0.5 * panels.height_mm(), out}},
                                   3 - 0.1 * frame, 0, 58, size.width_px, size.height_px);
  return gl::viewOf(eye, panels);
}

double medianMs(int frames, const std::function<void(int)>& draw) {
  std::vector<double> times;
  for (int k = 0; k < frames; ++k)
    times.push_back(milliseconds([&] {
      draw(k);
      glFinish();
    }));
  return median(times);
}

void timeWall(const char* name, const Scene& scene, int frames) {
  gl::WallRenderer wall;
  const double sent = milliseconds([&] {
    wall.setScene(scene);
    glFinish();
  });
  for (const Size& size : sizes) {
    gl::Canvas fine_canvas;
    gl::Canvas moving_canvas(1);
    fine_canvas.resize(size.width_px, size.height_px);
    moving_canvas.resize(size.width_px, size.height_px);
    const auto draw = [&](const gl::Look& look, gl::Canvas& canvas) {
      return [&wall, &scene, &size, &canvas, look](int frame) {
        wall.draw(viewOfFrame(scene.panels, size, frame), look, canvas);
        canvas.finish();
      };
    };
    const auto empty = [&](int) {
      const std::array<float, 4> paper{1, 1, 1, 1};
      const float far = 1;
      fine_canvas.begin();
      glClearBufferfv(GL_COLOR, 0, paper.data());
      glClearBufferfv(GL_DEPTH, 0, &far);
      fine_canvas.finish();
    };
    draw({}, fine_canvas)(0);  // the light's maps are drawn once for a wall
    const double nothing = medianMs(frames, empty);
    const double fine = medianMs(frames, draw({}, fine_canvas));
    gl::Look in_motion;
    in_motion.coarse_px = 3;
    const double moving = medianMs(frames, draw(in_motion, moving_canvas));
    fmt::print("{:<6} {:<6} {:>9.2f} {:>9.2f} {:>8.1f} x {:>9.2f} {:>8.1f} x {:>10.1f}\n", name, size.name,
               nothing, fine, fine / nothing, moving, moving / nothing, sent);
    std::fflush(stdout);
  }
}

}  // namespace

int timeFrames(const std::string& device, int frames) {
  const auto context = contextOn(device);
  if (!context) {
    fmt::print(stderr, "there is no such OpenGL here\n");
    return 1;
  }
  fmt::print("Frames, 4 samples a pixel (1 in motion), medians of {}; OpenGL: {}\n", frames,
             context->renderer());
  fmt::print("{:<6} {:<6} {:>9} {:>9} {:>10} {:>10} {:>9} {:>10}\n", "wall", "size", "empty, ms", "fine, ms",
             "/ empty", "moving, ms", "/ empty", "sent in, ms");
  const auto loaded = loadPlan(PETALPROOF_SOURCE_DIR "/assets/plans/demo.toml");
  if (!loaded) return 1;
  const auto demo = buildScene(*loaded.value);
  if (!demo) return 1;
  timeWall("demo", *demo.value, frames);
  timeWall("480", testing::randomWall(testing::largeWall(1)), frames);
  return 0;
}

}  // namespace petalproof::bench
