#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

// The chosen shot: framing, lens, where the camera stands, who stands before the wall, how the picture is
// looked at.
class ShotPage {
 public:
  app::Actions draw(const app::State& state, const Ui& ui);

 private:
  struct Work {
    const app::State& state;
    const Ui& ui;
    plan::Shot shot;  // as it becomes
    app::Actions& actions;
    float width;
  };
  void drawNames(Work& work);
  void drawWords(const Work& work);
  void drawFramings(Work& work);
  void drawLens(Work& work);
  void drawZoom(Work& work);
  void drawStand(Work& work);
  void drawPicture(Work& work);
  void drawSensor(Work& work);
  void drawCrop(Work& work);
  void drawLookedAt(Work& work);
  void drawPeople(Work& work);
  void drawPerson(Work& work, std::size_t number);
  void slide(Work& work, const char* label, Length plan::Shot::*what, float low, float high);
  void set(Work& work, const char* what, int stroke = 0);

  Fields fields_;
  Sliders sliders_;
  int people_ = 2;
  float words_high_ = 0;  // what is said of the picture
};

}  // namespace petalproof::window
