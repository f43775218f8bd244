#include "engine/check/shot_checker.h"

#include "engine/camera/lens.h"
#include "engine/check/internal/worse_end.h"
#include "engine/plan/default_shots.h"

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
      looker_(pool) {}

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
  if (step) step("reading holes");
  if (!readings_ || done.found.holes.empty()) return done;
  const reading::PictureLooks looks =
      looksOf(done.camera, done.viewing, done.found.holes, sight_.seen(), colours, stop);
  sight_.forgetTriangles();
  Yardstick yardstick = yardstickFor(done, looks, colours, stop);
  done.readings = reading::readingsOf(looks, *yardstick.pieces, loaded_->plan.reading);
  done.pieces = std::move(yardstick.pieces);
  if (!yardstick.remark.empty()) done.warnings.push_back(std::move(yardstick.remark));
  return done;
}

reading::PictureLooks ShotChecker::looksOf(const camera::Camera& camera, const camera::Viewing& viewing,
                                           const std::vector<gaps::Hole>& holes,
                                           const visibility::VisibilityBuffer& seen,
                                           const scene::SceneColours& colours, const std::stop_token& stop) {
  const camera::WorkingSize size = camera::workingSizeOf(camera, viewing);
  const picture::WorkingPicture& picture = painter().paint(camera, seen, size, colours, stop);
  reading::LooksInput input{picture, camera, scene_->panels, holes, blurOf(camera, size)};
  input.elsewhere = meanBloomLight(*scene_);
  return looker_.look(input, stop);
}

Yardstick ShotChecker::yardstickFor(const ShotCheck& shot, const reading::PictureLooks& looks,
                                    const scene::SceneColours& colours, const std::stop_token& stop) {
  if (looks.pieces.size() >= enough_pieces)
    return {std::make_shared<reading::Oddity>(looks.pieces, pool_, reading::PieceOrigin::same_picture), ""};
  std::vector<reading::PatchLooks> pieces = looks.pieces;
  const plan::Plan& plan = loaded_->plan;
  const std::vector<plan::Shot> whole = plan::defaultShots(plan);
  for (const plan::Shot& other : plan.shots.empty() ? whole : plan.shots)
    if (other.name != shot.shot.name) addPiecesOf(other, colours, pieces, stop);
  if (pieces.size() < enough_pieces) addPiecesOf(whole.back(), colours, pieces, stop);
  auto oddity = std::make_shared<reading::Oddity>(pieces, pool_, reading::PieceOrigin::elsewhere);
  std::string remark =
      oddity->says()
          ? fmt::format("shows only {} of paper: its holes are held against those of the other shots too",
                        looks.pieces.size() == 1 ? "1 piece" : fmt::format("{} pieces", looks.pieces.size()))
          : std::string(
                "no shot shows enough paper to hold holes against: only how much a hole differs from "
                "what surrounds it, and its size, decide whether it shows");
  return {std::move(oddity), std::move(remark)};
}

void ShotChecker::addPiecesOf(const plan::Shot& shot, const scene::SceneColours& colours,
                              std::vector<reading::PatchLooks>& pieces, const std::stop_token& stop) {
  const plan::Shot end = camera::zoomEnds(shot).front();
  const Result<camera::Camera> camera = camera::makeCamera(end, wall_, {});
  if (!camera) return;
  ShotSight sight(pool_);
  sight.lookAgain(*scene_, *camera.value, {}, wall_, stop);
  const camera::Viewing viewing = camera::viewingOf(end, *camera.value, loaded_->plan.units);
  const reading::PictureLooks looks = looksOf(*camera.value, viewing, {}, sight.seen(), colours, stop);
  pieces.insert(pieces.end(), looks.pieces.begin(), looks.pieces.end());
}

std::vector<reading::Reading> ShotChecker::readAgain(const ShotCheck& shot,
                                                     const visibility::VisibilityBuffer& seen,
                                                     const scene::SceneColours& colours,
                                                     const std::stop_token& stop) {
  if (!readings_ || shot.found.holes.empty()) return {};
  const reading::PictureLooks looks =
      looksOf(shot.camera, shot.viewing, shot.found.holes, seen, colours, stop);
  return reading::readingsOf(looks, *yardstickFor(shot, looks, colours, stop).pieces, loaded_->plan.reading);
}

Image ShotChecker::asSeen(const ShotCheck& shot, const std::stop_token& stop) {
  sight_.lookAgain(*scene_, shot.camera, {}, wall_, stop);
  const camera::WorkingSize size = camera::workingSizeOf(shot.camera, shot.viewing);
  const picture::WorkingPicture& picture =
      painter().paint(shot.camera, sight_.seen(), size, scene_->colours, stop);
  return reading::asSeen(picture, shot.camera, blurOf(shot.camera, size), pool_, stop);
}

}  // namespace petalproof::check
