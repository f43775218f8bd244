#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

#include "viewer/app/first_wall.h"

#include <string>

namespace petalproof::window {

// Four questions, a palette and a recipe.
class FirstQuestions {
 public:
  // True where an answer changed. `comes_to`: what the wall really comes to; empty: not known.
  bool draw(const Ui& ui, app::Answers& answers, const std::string& comes_to);

 private:
  bool drawUnits(const Ui& ui, app::Answers& answers);
  bool drawSizes(const Ui& ui, app::Answers& answers, const std::string& comes_to);
  bool drawPalette(const Ui& ui, app::Answers& answers);
  bool drawRecipe(const Ui& ui, app::Answers& answers);

  Fields fields_;
};

}  // namespace petalproof::window
