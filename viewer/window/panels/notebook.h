#pragma once
// The notebook right of the wall, whose pages hold the widgets: gaps, shot, blooms, wall, fillers, plan. Desk
// draws it and carries out its wishes.

#include "viewer/window/panels/bloom_page.h"
#include "viewer/window/panels/fillers_page.h"
#include "viewer/window/panels/plan_page.h"
#include "viewer/window/panels/shot_page.h"
#include "viewer/window/panels/wall_page.h"
#include "viewer/window/ui.h"

#include <cstdint>
#include <utility>

namespace petalproof::window {

class Notebook {
 public:
  enum class Wish { nothing, saveElsewhere, help, closePlan };

  app::Actions draw(const app::State& state, const Ui& ui, const Area& area);
  // The wish of this frame that needs a question first, once.
  Wish takeWish() { return std::exchange(wish_, Wish::nothing); }

 private:
  enum class Page { gaps, shot, blooms, wall, fillers, plan };
  void turnTo(const app::State& state);
  void drawTabs(const Ui& ui);
  void drawFoot(const app::State& state, const Ui& ui, app::Actions& actions);
  app::Actions drawPage(const app::State& state, const Ui& ui);

  Page page_ = Page::gaps;
  Wish wish_ = Wish::nothing;
  ShotPage shot_;
  BloomPage blooms_;
  WallPage wall_;
  FillersPage fillers_;
  PlanPage plan_;
  std::uint64_t opened_ = 0;  // State::opened_revision of the last frame
  app::Selection shown_;
  bool was_filling_ = false;
};

}  // namespace petalproof::window
