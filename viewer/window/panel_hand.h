#pragma once
// The hand on panels, while Alt is held: picks one, drags it onto another to swap the two.

#include "viewer/window/ui.h"

#include "engine/scene/scene.h"

#include <optional>

namespace petalproof::window {

struct DrawingScale;

class PanelHand {
 public:
  // `hovered`: the mouse is over the drawing and nothing else.
  app::Actions work(const DrawingScale& scale, const scene::PanelGrid& panels, bool hovered);
  // Outlines of what is chosen, and of what the hand is about to do.
  void draw(const app::State& state, const Ui& ui, const DrawingScale& scale,
            const scene::PanelGrid& panels) const;
  bool holds() const { return held_.has_value(); }

 private:
  std::optional<app::CellRef> held_;
  std::optional<app::CellRef> over_;
};

// The cell whose panel, or the slit right of it or below it, holds a place; nothing off the wall.
std::optional<app::CellRef> cellAt(const scene::PanelGrid& panels, glm::dvec2 board_mm);

}  // namespace petalproof::window
