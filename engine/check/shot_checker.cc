#include "engine/check/shot_checker.h"

#include "engine/camera/lens.h"
#include "engine/check/internal/worse_end.h"

#include <fmt/format.h>

#include <iterator>
#include <optional>
#include <utility>

namespace petalproof::check {
namespace {

// A frame that is on the wall at the worse end of a zoom may run off it at the other.
void addWarningOfOtherEnd(const plan::Shot& other, const camera::Camera& camera,
                          const camera::WallFrame& wall, ShotCheck& done) {
  if (done.off.any() || !camera::offWall(camera, wall).any()) return;
  done.warnings.push_back(
      fmt::format("at the other end of the zoom, {:g} mm, the frame runs off the wall", other.lens.mm));
}

picture::LensBlur blurOf(const camera::Camera& camera, const camera::WorkingSize& size) {
  const camera::ThinLens lens = camera::lensOf(camera);
  const double sensor_px = camera.pixel_pitch_mm * camera.width_px / size.width_px;
  const double far_mm = lens.focal_mm * lens.focal_mm / (lens.f_number * (lens.focus_mm - lens.focal_mm));
  return {far_mm / sensor_px, lens.focus_mm};
}

// Fills bare places that no bloom borders: the blooms' mean colour, of a wall without any a middle grey.
glm::vec3 meanBloomLight(const scene::Scene& scene) {
  if (scene.blooms.empty()) return glm::vec3(0.18F);
  glm::vec3 sum(0);
  for (const scene::BloomInstance& bloom : scene.blooms) sum += linearFromSrgb(bloom.colour);
  return sum / static_cast<float>(scene.blooms.size());
}

}  // namespace

ShotChecker::ShotChecker(const plan::LoadedPlan& loaded, const scene::Scene& scene, const Pool& pool,
                         bool readings)
    : wall_(camera::wallFrameOf(loaded.plan)),
      loaded_(&loaded),
      scene_(&scene),
      pool_(pool),
      sight_(pool),
      readings_(readings),
      reader_(pool) {}

void ShotChecker::goOnWith(const plan::LoadedPlan& loaded, const scene::Scene& scene,
                           picture::Lighting lighting) {
  wall_ = camera::wallFrameOf(loaded.plan);
  loaded_ = &loaded;
  scene_ = &scene;
  lighting_ = lighting;
  painter_is_of_scene_ = false;
}

picture::WallPainter& ShotChecker::painter() {
  if (!painter_)
    painter_.emplace(*scene_, pool_, lighting_);
  else if (!painter_is_of_scene_)
    painter_->goOnWith(*scene_, lighting_);
  painter_is_of_scene_ = true;
  return *painter_;
}

Result<ShotCheck> ShotChecker::check(const plan::Shot& shot, const camera::ShotPlaces& places,
                                     const scene::SceneColours& colours, const Step& step,
                                     const std::stop_token& stop) {
  std::vector<Problem> problems;
  std::vector<LensEnd> ends;
  for (plan::Shot& end : camera::zoomEnds(shot)) {
    Result<camera::Camera> camera = camera::makeCamera(end, wall_, places);
    if (camera) ends.push_back({std::move(end), *camera.value});
    std::move(camera.problems.begin(), camera.problems.end(), std::back_inserter(problems));
  }
  if (!problems.empty()) return Result<ShotCheck>::failure(std::move(problems));

  ShotCheck done = see(ends.front(), colours, step, stop);
  if (ends.size() > 1) {
    ShotCheck other = see(ends.back(), colours, step, stop);
    const bool other_is_worse = worse(other, done);
    if (other_is_worse) done = std::move(other);
    const LensEnd& better = other_is_worse ? ends.front() : ends.back();
    addWarningOfOtherEnd(better.shot, better.camera, wall_, done);
    if (!other_is_worse) sight_.lookAgain(*scene_, done.camera, shot.people, wall_, stop);
  }
  done.shot = shot;
  return Result<ShotCheck>::success(std::move(done));
}

ShotCheck ShotChecker::see(const LensEnd& end, const scene::SceneColours& colours, const Step& step,
                           const std::stop_token& stop) {
  ShotCheck done = sight_.see({loaded_->plan, *scene_, end.shot, end.camera, readings_}, step, stop);
  if (step) step("reading gaps");
  read(colours, done, stop);
  return done;
}

void ShotChecker::read(const scene::SceneColours& colours, ShotCheck& done, const std::stop_token& stop) {
  if (!readings_ || done.found.gaps.empty()) return;
  const camera::WorkingSize size = camera::workingSizeOf(done.camera, done.viewing);
  const picture::WorkingPicture& picture = painter().paint(done.camera, sight_.seen(), size, colours, stop);
  sight_.forgetTriangles();  // as large as the shot itself, when the reading's planes are yet to come
  reading::ReadingInput input{picture, done.camera, scene_->panels, done.found.gaps,
                              blurOf(done.camera, size)};
  input.thresholds = loaded_->plan.reading;
  input.elsewhere = meanBloomLight(*scene_);
  input.seed = loaded_->plan.seed;
  done.readings = reader_.read(input, stop);
}

std::vector<reading::Reading> ShotChecker::readAgain(ShotCheck checked_last,
                                                     const scene::SceneColours& colours,
                                                     const std::stop_token& stop) {
  read(colours, checked_last, stop);
  return std::move(checked_last.readings);
}

Image ShotChecker::asSeen(const ShotCheck& shot, const std::stop_token& stop) {
  sight_.lookAgain(*scene_, shot.camera, {}, wall_, stop);
  const camera::WorkingSize size = camera::workingSizeOf(shot.camera, shot.viewing);
  const picture::WorkingPicture& picture =
      painter().paint(shot.camera, sight_.seen(), size, scene_->colours, stop);
  return reading::asSeen(picture, shot.camera, blurOf(shot.camera, size), pool_, stop);
}

}  // namespace petalproof::check
