#pragma once
// The content of the window: draws the state and returns the person's actions. The main loop (window.cc)
// calls draw() in each frame.

#include "viewer/window/floor_plan.h"
#include "viewer/window/glfw_window.h"
#include "viewer/window/lens_view.h"
#include "viewer/window/panels/desk.h"
#include "viewer/window/prints_board.h"
#include "viewer/window/ui.h"
#include "viewer/window/walk_view.h"
#include "viewer/window/wall_drawing.h"
#include "viewer/window/wall_pictures.h"

#include <filesystem>
#include <vector>

namespace petalproof::window {

// Events of the window that don't come through Dear ImGui.
struct Events {
  std::vector<std::filesystem::path> dropped;
  bool wants_to_close = false;
};

class Screen {
 public:
  app::Actions draw(const app::State& state, const Ui& ui, const Events& events);
  // True where another frame would look better though nothing happens.
  bool wantsFrame(const app::State& state) const;
  // True where the view moves by itself: the next frame is wanted at once.
  bool isMoving(const app::State& state) const;
  // After wants_to_close: true once everything is saved or given up.
  bool mayClose() const { return desk_.mayClose(); }
  WallPictures& pictures() { return pictures_; }

 private:
  bool mainWantsFrame(const app::State& state) const;
  void followGap(const app::State& state);
  std::vector<KeyPress> keysForTheWall(const app::State& state, std::vector<KeyPress> keys);
  app::Actions drawMain(const app::State& state, const Ui& ui, const Area& area);

  WallPictures pictures_;
  WallDrawing wall_drawing_;
  WalkView walk_;
  LensView lens_;
  FloorPlan floor_plan_;
  PrintsBoard prints_;
  Desk desk_;
  std::uint64_t shown_gaps_ = 0;  // State::gap_choices of the last frame
  std::uint64_t opened_ = 0;      // State::opened_revision of the last frame
  std::filesystem::path shown_path_;
  bool in_widgets_ = false;  // in the last frame arrow keys walked through widgets
  bool was_asking_ = false;
  bool had_plan_ = false;
};

}  // namespace petalproof::window
