#pragma once
// The start page's questions for a first wall: sizes, mounting, floor, a palette and a recipe. StartPage
// draws them.

#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

#include "viewer/app/first_wall.h"

#include <string>

namespace petalproof::window {

class FirstQuestions {
 public:
  // True where an answer changed. `comes_to`: the size that the wall gets in whole panels; empty: not known
  // yet.
  bool draw(const Ui& ui, app::Answers& answers, const std::string& comes_to);

 private:
  bool drawUnits(const Ui& ui, app::Answers& answers);
  bool drawSizes(const Ui& ui, app::Answers& answers, const std::string& comes_to);
  bool drawPalette(const Ui& ui, app::Answers& answers);
  bool drawRecipe(const Ui& ui, app::Answers& answers);

  Fields fields_;
};

}  // namespace petalproof::window
