#pragma once
// The mouse on the panels of the wall drawing, while Alt is held: a click picks a panel, dragging it onto
// another panel swaps the two. WallDrawing calls it in each frame.

#include "viewer/window/ui.h"

#include "engine/scene/scene.h"

#include <optional>

namespace petalproof::window {

struct DrawingScale;

class PanelHand {
 public:
  // `hovered`: the mouse is over the drawing and over no other widget.
  app::Actions work(const DrawingScale& scale, const scene::PanelGrid& panels, bool hovered);
  // Draws outlines of the chosen panels and of the panel under the mouse.
  void draw(const app::State& state, const Ui& ui, const DrawingScale& scale,
            const scene::PanelGrid& panels) const;
  bool holds() const { return held_.has_value(); }

 private:
  std::optional<app::CellRef> held_;
  std::optional<app::CellRef> over_;
};

// The cell of a place, which is on its panel or on the slit right of it or below it; nothing off the wall.
std::optional<app::CellRef> cellAt(const scene::PanelGrid& panels, glm::dvec2 board_mm);

}  // namespace petalproof::window
