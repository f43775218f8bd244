#include "engine/check/shot_checker.h"

#include "engine/camera/lens.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <tuple>
#include <utility>

namespace petalproof {
namespace {

double bareInGaps(const ShotCheck& shot) {
  double sum = shot.found.specks.area_mm2;
  for (const Gap& gap : shot.found.gaps) sum += gap.area_mm2;
  return sum;
}

bool worse(const ShotCheck& a, const ShotCheck& b) {
  const auto rank = [](const ShotCheck& shot) {
    const ReadingCounts counts = countsOf(shot.readings);
    return std::tuple(counts.show, counts.faint, bareInGaps(shot));
  };
  return rank(a) > rank(b);
}

// A frame that is on the wall at the worse end of a zoom may run off it at the other.
void addWarningOfOtherEnd(const Shot& other, const Camera& camera, const WallFrame& wall, ShotCheck& done) {
  if (done.off.any() || !offWall(camera, wall).any()) return;
  done.warnings.push_back(
      fmt::format("at the other end of the zoom, {:g} mm, the frame runs off the wall", other.lens.mm));
}

LensBlur blurOf(const Camera& camera, const WorkingSize& size) {
  const ThinLens lens = lensOf(camera);
  const double sensor_px = camera.pixel_pitch_mm * camera.width_px / size.width_px;
  const double far_mm = lens.focal_mm * lens.focal_mm / (lens.f_number * (lens.focus_mm - lens.focal_mm));
  return {far_mm / sensor_px, lens.focus_mm};
}

// Fills bare places that no bloom borders: the blooms' mean colour, of a wall without any a middle grey.
glm::vec3 meanBloomLight(const Scene& scene) {
  if (scene.blooms.empty()) return glm::vec3(0.18F);
  glm::vec3 sum(0);
  for (const BloomInstance& bloom : scene.blooms) sum += linearFromSrgb(bloom.colour);
  return sum / static_cast<float>(scene.blooms.size());
}

}  // namespace

ReadingCounts countsOf(const std::vector<Reading>& readings) {
  ReadingCounts counts;
  for (const Reading& reading : readings) {
    switch (reading.reads) {
      case Reads::shows: ++counts.show; break;
      case Reads::faint: ++counts.faint; break;
      case Reads::lost: ++counts.lost; break;
    }
  }
  return counts;
}

ShotChecker::ShotChecker(const LoadedPlan& loaded, const Scene& scene, int threads, bool readings)
    : wall_(wallFrameOf(loaded.plan)),
      loaded_(loaded),
      scene_(scene),
      threads_(threads),
      renderer_(threads),
      readings_(readings),
      reader_(threads) {}

WallPainter& ShotChecker::painter() {
  if (!painter_) painter_.emplace(scene_, threads_);
  return *painter_;
}

Result<ShotCheck> ShotChecker::check(const Shot& shot, const ShotPlaces& places, const SceneColours& colours,
                                     const Step& step) {
  std::vector<Problem> problems;
  std::vector<LensEnd> ends;
  for (Shot& end : zoomEnds(shot)) {
    Result<Camera> camera = makeCamera(end, wall_, places);
    if (camera) ends.push_back({std::move(end), *camera.value});
    std::move(camera.problems.begin(), camera.problems.end(), std::back_inserter(problems));
  }
  if (!problems.empty()) return Result<ShotCheck>::failure(std::move(problems));

  ShotCheck done = see(ends.front(), colours, step);
  if (ends.size() > 1) {
    ShotCheck other = see(ends.back(), colours, step);
    const bool other_is_worse = worse(other, done);
    if (other_is_worse) done = std::move(other);
    const LensEnd& better = other_is_worse ? ends.front() : ends.back();
    addWarningOfOtherEnd(better.shot, better.camera, wall_, done);
    if (!other_is_worse) renderer_.render(scene_, done.camera, shot.people, wall_, buffer_);
  }
  done.shot = shot;
  return Result<ShotCheck>::success(std::move(done));
}

ShotCheck ShotChecker::see(const LensEnd& end, const SceneColours& colours, const Step& step) {
  const auto report = [&step](const char* doing) {
    if (step) step(doing);
  };
  ShotCheck done;
  done.shot = end.shot;
  done.lens = end.shot.lens;
  done.camera = end.camera;
  report("seeing the wall");
  renderer_.render(scene_, end.camera, end.shot.people, wall_, buffer_);
  done.focus = focusOf(end.camera, end.shot, wall_);
  done.shares = sharesOf(buffer_);
  done.off = offWall(end.camera, wall_);
  done.remedy = remedyFor(end.shot, wall_);
  done.room = roomForPeople(end.camera, end.shot, wall_);
  done.warnings = framingWarnings(end.camera, end.shot, wall_, loaded_.plan.wall.room);
  done.viewing = viewingOf(end.shot, end.camera, loaded_.plan.units);
  report("finding gaps");
  done.found = findGaps(buffer_, scene_.panels, end.camera, threads_);
  report("reading gaps");
  read(colours, done);
  return done;
}

void ShotChecker::read(const SceneColours& colours, ShotCheck& done) {
  if (!readings_ || done.found.gaps.empty()) return;
  const WorkingSize size = workingSizeOf(done.camera, done.viewing);
  const WorkingPicture& picture = painter().paint(done.camera, buffer_, size, colours);
  ReadingInput input{picture, done.camera, scene_.panels, done.found.gaps, blurOf(done.camera, size)};
  input.thresholds = loaded_.plan.reading;
  input.elsewhere = meanBloomLight(scene_);
  input.seed = loaded_.plan.seed;
  done.readings = reader_.read(input);
}

std::vector<Reading> ShotChecker::readAgain(ShotCheck checked_last, const SceneColours& colours) {
  read(colours, checked_last);
  return std::move(checked_last.readings);
}

Image ShotChecker::asSeen(const ShotCheck& shot) {
  renderer_.render(scene_, shot.camera, {}, wall_, buffer_);
  const WorkingSize size = workingSizeOf(shot.camera, shot.viewing);
  const WorkingPicture& picture = painter().paint(shot.camera, buffer_, size, scene_.colours);
  return petalproof::asSeen(picture, shot.camera, blurOf(shot.camera, size), threads_);
}

}  // namespace petalproof
