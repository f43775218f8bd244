#pragma once
// The shots as prints, pinned to a line to dry, each with its count of gaps that show. A click chooses the
// shot.

#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include <memory>
#include <vector>

namespace petalproof::window {

class PrintsBoard {
 public:
  // `may_draw`: prints that are old may be drawn anew; else they wait.
  app::Actions draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures,
                    bool may_draw);
  // Some print is older than the wall.
  bool wantsFrame() const { return wants_frame_; }

 private:
  struct Print {
    Area sheet;    // paper with its white border
    Area picture;  // on it
  };
  std::vector<Print> layOut(const std::vector<camera::Camera>& cameras, const Ui& ui, const Area& area) const;
  void renew(const std::vector<camera::Camera>& cameras, const std::vector<Print>& prints,
             WallPictures& pictures, bool may_draw);
  static void press(const app::State& state, const plan::Shot& shot, const Print& print, int number,
                    app::Actions& actions);
  static float pressForAnother(const app::State& state, const Ui& ui, const Area& area,
                               const std::vector<Print>& prints, app::Actions& actions);
  void drawPrint(const app::State& state, const Ui& ui, const Print& print, int shot,
                 const std::string& name);

  std::vector<std::unique_ptr<PicturePane>> panes_;  // as the shots
  float scroll_ = 0;
  bool wants_frame_ = false;
};

}  // namespace petalproof::window
