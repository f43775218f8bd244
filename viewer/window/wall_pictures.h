#pragma once
// The wall of the state as OpenGL has it, and pictures of it that are drawn anew only when something changed.

#include "viewer/app/shot_edits.h"
#include "viewer/app/state.h"
#include "viewer/gl/id_picture.h"
#include "viewer/gl/picture.h"
#include "viewer/gl/wall_renderer.h"

#include <chrono>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace petalproof::window {

// One way to look at the wall.
struct PictureWish {
  gl::View view;
  gl::Look look;
  std::optional<gl::LensSpread> spread;
  int people_of = -1;  // the shot whose people stand there
};

// The choices of the state, with lines of that width in pixels of the picture.
gl::Look lookOf(const app::State& state, float ink_px);

class WallPictures {
 public:
  // Takes over what changed in the state: scene, signs of what is chosen, marks of the chosen shot, heat.
  void follow(const app::State& state);
  bool hasWall() const { return scene_ != nullptr; }
  const scene::Scene& scene() const { return *scene_; }
  // Another number whenever pictures of the wall itself, of people before it, or of its marks and signs, may
  // have become old.
  std::uint64_t wallVersion() const { return wall_version_; }
  std::uint64_t peopleVersion() const { return people_version_; }
  std::uint64_t markVersion() const { return mark_version_; }

  // Blooms are chosen, and may move next.
  bool holdsBlooms() const { return holds_blooms_; }

  // Draws the wish onto the canvas and, where it spreads, on to `blurred`; returns the texture.
  GLuint draw(const PictureWish& wish, gl::Canvas& canvas, gl::Canvas& blurred);
  // The same while blooms are moved, as WallRenderer::drawMoving.
  GLuint drawMoving(const PictureWish& wish, gl::Canvas& canvas, gl::StillPicture& still);
  // What is under a pixel of a view; nothing where there is no bloom. An index into Scene::blooms.
  std::optional<std::size_t> bloomAt(const gl::View& view, int x_px, int y_px);
  // One more tile of a large picture of the wish that it was begun with; as gl::TiledPicture.
  bool step(gl::TiledPicture& picture, int people_of);

 private:
  void followMarks(const app::State& state);
  void followSigns(const app::State& state);
  void followHeld(const app::State& state);
  void followHeat(const app::State& state);
  void putPeople(int shot);

  gl::WallRenderer renderer_;
  gl::IdPicture ids_;
  gl::LensBlur blur_;
  std::shared_ptr<const scene::Scene> scene_;
  std::shared_ptr<const plan::LoadedPlan> plan_;
  std::vector<gl::WallMark> marks_;
  std::vector<std::uint8_t> signs_;
  bool holds_blooms_ = false;
  std::shared_ptr<const gaps::BareMap> bare_;
  std::uint64_t wall_version_ = 0;
  std::uint64_t mark_version_ = 0;
  std::uint64_t people_version_ = 0;
  int people_of_ = -1;
  std::shared_ptr<const plan::LoadedPlan> people_plan_;
};

// A picture on the screen. One is drawn quickly while it changes and finely as soon as it rests.
class PicturePane {
 public:
  explicit PicturePane(int samples = 4) : canvas_(samples), moving_(1), blurred_(1) {}

  // The texture to show. `in_hand`: somebody holds what changes, or flies, so that a picture has to be there
  // soon.
  GLuint show(WallPictures& pictures, const PictureWish& wish, bool in_hand = false);
  // Whether the picture shown last was drawn quickly, so that another look a moment later is worth it.
  bool wantsFine() const { return !fine_; }
  bool isCurrent(const WallPictures& pictures, const PictureWish& wish) const;
  GLuint texture() const { return texture_; }

 private:
  struct Key {
    PictureWish wish;
    std::uint64_t wall = 0;
    std::uint64_t marks = 0;
    std::uint64_t people = 0;
  };
  GLuint drawMoving(WallPictures& pictures, const PictureWish& wish);
  bool showsSameWall(const WallPictures& pictures, const PictureWish& wish) const;
  bool isMotion();

  gl::Canvas canvas_;
  gl::Canvas moving_;  // one sample a pixel: where a processor draws, several cost several times as much
  gl::Canvas blurred_;
  gl::StillPicture still_;
  std::optional<Key> shown_;
  bool fine_ = true;
  double last_fine_ms_ = 1e9;  // not known yet: the first picture is to be there soon
  int moving_divisor_ = 1;     // of the sides of pictures in motion, where drawing is slow
  std::chrono::steady_clock::time_point changed_at_{};
  GLuint texture_ = 0;
};

}  // namespace petalproof::window
