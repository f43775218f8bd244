#pragma once
// The part of the shot's page about the picture: sensor, crop, and how the picture is looked at. ShotPage
// draws it.

#include "viewer/window/panels/fields.h"
#include "viewer/window/panels/shot_work.h"

namespace petalproof::window {

class ShotPicture {
 public:
  void draw(ShotWork& work);

 private:
  void drawSensor(ShotWork& work);
  void drawCrop(ShotWork& work);
  void drawLookedAt(ShotWork& work);

  Fields fields_;
};

}  // namespace petalproof::window
