#pragma once
// The notebook's page of the chosen shot: framing, lens, the camera's place, the picture, the people.
// Notebook draws it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/panels/shot_picture.h"
#include "viewer/window/panels/shot_work.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

class ShotPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  using Work = ShotWork;
  void drawNames(Work& work);
  void drawWords(const Work& work);
  void drawFramings(Work& work);
  void drawLens(Work& work);
  void drawZoom(Work& work);
  void drawStand(Work& work);
  void drawPeople(Work& work);
  void drawPerson(Work& work, std::size_t number);
  // A slider with a field beside it, for a length of the shot.
  void slide(Work& work, const char* label, Length plan::Shot::*length, float low, float high);

  Fields fields_;
  Sliders sliders_;
  ShotPicture picture_;
  int people_ = 2;        // of a group to be framed
  float words_high_ = 0;  // the height of the words about the picture
};

}  // namespace petalproof::window
