#pragma once
// An OpenGL on the processor without a display, and walls to draw with it. A test that finds no OpenGL fails:
// third_party/packages.txt brings one.

#include "viewer/gl/debug_messages.h"
#include "viewer/gl/headless.h"
#include "viewer/gl/wall_renderer.h"

#include "engine/plan/read_plan.h"
#include "engine/scene/scene.h"

#include <doctest/doctest.h>

#include <optional>

namespace petalproof::testing {

// A context that complains aloud; what it said is checked at the end.
class Gl {
 public:
  Gl() : context_(gl::HeadlessContext::make(gl::HeadlessDevice::processor, true)) {
    REQUIRE_MESSAGE(context_, "there is no OpenGL without a display here");
    messages_.emplace();
    CHECK(messages_->listening());
  }
  ~Gl() {
    for (const std::string& message : messages_->all()) FAIL_CHECK("OpenGL says: ", message);
  }
  Gl(const Gl&) = delete;
  Gl& operator=(const Gl&) = delete;

 private:
  std::optional<gl::HeadlessContext> context_;
  std::optional<gl::DebugMessages> messages_;
};

struct DemoWall {
  plan::LoadedPlan loaded;
  scene::Scene scene;
  camera::WallFrame wall;
};
DemoWall demoWall();

// How many objects of OpenGL there are in the current context.
int livingObjects();

// Mean of the three channels of a pixel, 0 to 255.
double brightness(const Image& image, int x, int y);
// The largest difference of any channel, and the share of pixels that differ by more than `limit`.
struct ImageDifference {
  int largest = 0;
  double share = 0;
};
ImageDifference differenceOf(const Image& a, const Image& b, int limit);

}  // namespace petalproof::testing
