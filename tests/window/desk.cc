#include "tests/window/desk.h"

#include "engine/scene/scene.h"

#include <doctest/doctest.h>

#include <algorithm>

namespace petalproof::window_test {
namespace fs = std::filesystem;

Desk::Desk(const std::string& plan_name)
    : plan(home / plan_name), journal(home / ("." + plan_name + ".journal")) {
  fs::create_directories(home);
}

void Desk::start(const std::vector<std::string>& arguments) {
  std::vector<std::string> words{PETALPROOF_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  program.reset();
  program = std::make_unique<Process>(
      words,
      std::vector<std::string>{screen.environment(), "HOME=" + home.string(),
                               "XDG_STATE_HOME=" + state.string(), "LIBGL_ALWAYS_SOFTWARE=1"},
      folder.path() / "program.log");
  // What the hand does before the window shows something is lost.
  const auto showsSomething = [&] {
    const Image picture = screen.picture();
    return std::any_of(picture.rgb.begin(), picture.rgb.begin() + 300, [](int light) { return light > 0; });
  };
  REQUIRE(comesTrue(showsSomething));
}

bool Desk::isSaved() const { return fs::exists(plan) && !fs::exists(journal); }

bool Desk::saveWhereProposed() {
  return comesTrue(
      [&] {
        screen.key("ctrl+s");
        screen.key("Return");
        return comesTrue([&] { return isSaved(); }, 8);
      },
      6 * patience_s);
}

void Desk::save() {
  REQUIRE(comesTrue([&] {
    screen.key("ctrl+s");
    return comesTrue([&] { return isSaved(); }, patience_s);
  }));
}

plan::Plan Desk::saved() const {
  auto loaded = plan::loadPlan(plan);
  REQUIRE(loaded);
  CHECK(scene::buildScene(*loaded.value));
  return loaded.value->plan;
}

}  // namespace petalproof::window_test
