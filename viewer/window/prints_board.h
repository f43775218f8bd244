#pragma once
// The shots as small prints on a line along the lower edge, each with its count of gaps that show. A click
// chooses the shot. Screen draws it below the main view.

#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include <memory>
#include <vector>

namespace petalproof::window {

class PrintsBoard {
 public:
  // `may_draw`: false: outdated prints wait, because the main view still needs the time.
  app::Actions draw(const app::State& state, const Ui& ui, const Area& area, WallPictures& pictures,
                    bool may_draw);
  // True where a print is outdated.
  bool wantsFrame() const { return wants_frame_; }

 private:
  struct Print {
    Area sheet;    // paper with its white border
    Area picture;  // on the paper
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

  std::vector<std::unique_ptr<PicturePane>> panes_;  // in the order of the shots
  float scroll_ = 0;
  bool wants_frame_ = false;
};

}  // namespace petalproof::window
