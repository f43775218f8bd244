#pragma once
// What the lens sees as a picture to show a client: no marks, up to 8,192 pixels a side, a PNG beside the
// plan.

#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include "engine/camera/camera.h"
#include "viewer/app/job.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

namespace petalproof::window {

class ClientPicture {
 public:
  // A word in the corner of `area` that opens the question how large; then how far it is, and where it went.
  void draw(const app::State& state, const Ui& ui, const Area& area, const camera::Camera& camera,
            WallPictures& pictures);
  // Under way, a tile a frame; what is drawn becomes a file beside the hand.
  bool wantsFrame() const { return work_.has_value(); }

 private:
  struct Work {
    gl::TiledPicture picture;
    std::filesystem::path to;
    int people_of = -1;
    double dots_per_inch = 200;
  };
  void ask(const app::State& state, const Ui& ui, const camera::Camera& camera, const WallPictures& pictures);
  void goOn(const Ui& ui, WallPictures& pictures);
  void write(Work work);

  int longest_px_ = 4096;
  std::optional<Work> work_;
  std::unique_ptr<app::Job<std::string>> writing_;  // what is to be said when it is done
  std::string said_;
};

// Beside the plan: its name, the shot's and how large; another number where such a file is there already.
std::filesystem::path pictureFile(const std::filesystem::path& plan, const std::string& shot, int longest_px);

}  // namespace petalproof::window
