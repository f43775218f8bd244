#pragma once
// A person at a screen of their own, with a home of their own, working with the built program.

#include "engine/plan/read_plan.h"
#include "tests/app/scratch_folder.h"
#include "tests/window/hand.h"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace petalproof::window_test {

// The window's size as it opens, where letters are as large as at 96 dots an inch; places in the tests are on
// it.
constexpr int screen_width = 1360;
constexpr int screen_height = 860;

// How long a busy machine may take for what a hand did before it is done once more: doing it twice may undo
// it, or do more than was meant.
constexpr int patience_s = 20;

struct Desk {
  app::ScratchFolder folder;
  Screen screen{screen_width, screen_height, folder.path()};
  std::filesystem::path home = folder.path() / "home";
  std::filesystem::path state = folder.path() / "state";
  std::filesystem::path plan;  // that is worked on, in the home
  std::filesystem::path journal;
  std::unique_ptr<Process> program;

  // `plan`: the file's name.
  explicit Desk(const std::string& plan_name);

  void start(const std::vector<std::string>& arguments = {});
  // Clicks until something comes of it; a click too many has to be harmless.
  template <class Condition>
  bool clickUntil(int x, int y, const Condition& condition) {
    return comesTrue([&] {
      screen.click(x, y);
      return comesTrue(condition, 3);
    });
  }
  bool isSaved() const;
  // A plan that is nowhere saved yet: the question where to takes its name as it stands.
  bool saveWhereProposed();
  void save();
  plan::Plan saved() const;
};

}  // namespace petalproof::window_test
