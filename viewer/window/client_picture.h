#pragma once
// Draws the picture of a shot for a client, without marks, as a PNG beside the plan. LensView shows its
// button and calls it in each frame: a tile is drawn in each, and another thread writes the file.

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
  // Draws the button in the corner of `area`, which asks for the size; then the progress, then the file's
  // name.
  void draw(const app::State& state, const Ui& ui, const Area& area, const camera::Camera& camera,
            WallPictures& pictures);
  // True while tiles are still to be drawn.
  bool wantsFrame() const { return work_.has_value(); }

 private:
  struct Work {
    gl::TiledPicture picture;
    std::filesystem::path to;
    int people_of = -1;
    double dots_per_inch = 200;
  };
  void ask(const app::State& state, const Ui& ui, const camera::Camera& camera, const WallPictures& pictures);
  void drawNextTile(const Ui& ui, WallPictures& pictures);
  void write(Work work);

  int longest_px_ = 4096;
  std::optional<Work> work_;
  std::unique_ptr<app::Job<std::string>> writing_;  // ends with the message to show
  std::string said_;
};

// The file for a picture, beside the plan: "wall-couple-4096.png", with a number where that file exists
// already.
std::filesystem::path pictureFile(const std::filesystem::path& plan, const std::string& shot, int longest_px);

}  // namespace petalproof::window
