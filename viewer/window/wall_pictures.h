#pragma once
// Keeps OpenGL's copy of the state's wall (WallPictures) and the pictures of it on the screen (PicturePane),
// which are drawn anew only after changes. The main views, the prints and the client's picture draw through
// them.

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

// A picture of the wall that a view asks for.
struct PictureWish {
  gl::View view;
  gl::Look look;
  std::optional<gl::LensSpread> spread;
  int people_of = -1;  // the shot whose people are shown
};

// The look that the state's choices ask for. `ink_px`: the width of gaps' outlines, in pixels of the picture.
gl::Look lookOf(const app::State& state, float ink_px);

class WallPictures {
 public:
  // Takes over changes of the state: scene, signs of chosen blooms, marks of the chosen shot, heat layer.
  void follow(const app::State& state);
  bool hasWall() const { return scene_ != nullptr; }
  const scene::Scene& scene() const { return *scene_; }
  // Each version grows whenever pictures of the wall, of people before it, or of its marks and signs may be
  // outdated.
  std::uint64_t wallVersion() const { return wall_version_; }
  std::uint64_t peopleVersion() const { return people_version_; }
  std::uint64_t markVersion() const { return mark_version_; }

  // True where blooms are chosen, which may move next.
  bool holdsBlooms() const { return holds_blooms_; }

  // Draws the wish onto the canvas and, where it has a spread, blurs it onto `blurred`; returns the texture.
  GLuint draw(const PictureWish& wish, gl::Canvas& canvas, gl::Canvas& blurred);
  // Draws the wish while blooms are dragged; as WallRenderer::drawMoving().
  GLuint drawMoving(const PictureWish& wish, gl::Canvas& canvas, gl::StillPicture& still);
  // The bloom at a pixel of a view, an index into Scene::blooms; nothing where no bloom is.
  std::optional<std::size_t> bloomAt(const gl::View& view, int x_px, int y_px);
  // Draws the next tile of a large picture; as gl::TiledPicture::step().
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

// A picture on the screen: drawn quickly while it changes, finely as soon as it rests.
class PicturePane {
 public:
  explicit PicturePane(int samples = 4) : canvas_(samples), moving_(1), blurred_(1) {}

  // The texture to show. `in_hand`: the person drags, or the view flies, so that a picture is needed soon.
  GLuint show(WallPictures& pictures, const PictureWish& wish, bool in_hand = false);
  // True where the last picture was drawn quickly: a later frame would look better.
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
  gl::Canvas moving_;  // a single sample for each pixel: where the processor draws, each sample costs as much
  gl::Canvas blurred_;
  gl::StillPicture still_;
  std::optional<Key> shown_;
  bool fine_ = true;
  double last_fine_ms_ = 1e9;  // unknown at first, and so taken for slow
  int moving_divisor_ = 1;     // divides the sides of pictures in motion where drawing is slow
  std::chrono::steady_clock::time_point changed_at_{};
  GLuint texture_ = 0;
};

}  // namespace petalproof::window
