#include "engine/check/shot_sight.h"

#include "engine/camera/framing_warnings.h"
#include "engine/check/internal/worse_end.h"

#include <tuple>

namespace petalproof::check {
namespace {

double bareInGaps(const ShotCheck& shot) {
  double sum = shot.found.specks.area_mm2;
  for (const gaps::Gap& gap : shot.found.gaps) sum += gap.area_mm2;
  return sum;
}

}  // namespace

ReadingCounts countsOf(const std::vector<reading::Reading>& readings) {
  ReadingCounts counts;
  for (const reading::Reading& reading : readings) {
    switch (reading.reads) {
      case reading::Reads::shows: ++counts.show; break;
      case reading::Reads::faint: ++counts.faint; break;
      case reading::Reads::lost: ++counts.lost; break;
    }
  }
  return counts;
}

std::string idOf(const ShotCheck& shot, const gaps::Gap& gap) {
  return shot.shot.name + "." + std::to_string(gap.number);
}

const reading::Reading* readingOf(const ShotCheck& shot, const gaps::Gap& gap) {
  const auto hole = static_cast<std::size_t>(gap.hole) - 1;
  return gap.hole > 0 && hole < shot.readings.size() ? &shot.readings[hole] : nullptr;
}

reading::Reads readsOf(const ShotCheck& shot, const gaps::Gap& gap) {
  const reading::Reading* const reading = readingOf(shot, gap);
  return reading == nullptr ? reading::Reads::shows : reading->reads;
}

int showInTheOpen(const ShotCheck& shot) {
  int count = 0;
  for (std::size_t k = 0; k < shot.readings.size(); ++k)
    if (shot.readings[k].reads == reading::Reads::shows && !shot.found.holes[k].whole.behind_people) ++count;
  return count;
}

bool worse(const ShotCheck& a, const ShotCheck& b) {
  const auto rank = [](const ShotCheck& shot) {
    const ReadingCounts counts = countsOf(shot.readings);
    return std::tuple(counts.show, counts.faint, bareInGaps(shot));
  };
  return rank(a) > rank(b);
}

ShotCheck ShotSight::see(const SightTask& task, const Step& step, const std::stop_token& stop) {
  const camera::WallFrame wall = camera::wallFrameOf(task.plan);
  ShotCheck done;
  done.shot = task.shot;
  done.lens = task.shot.lens;
  done.camera = task.camera;
  if (step) step("seeing the wall");
  using Triangles = visibility::VisibilityRenderer::Triangles;
  renderer_.render(task.scene, task.camera, task.shot.people, wall, buffer_,
                   task.triangles ? Triangles::asked : Triangles::unasked, stop);
  done.focus = camera::focusOf(task.camera, task.shot, wall);
  done.shares = visibility::sharesOf(buffer_, pool_);
  done.off = camera::offWall(task.camera, wall);
  done.remedy = camera::remedyFor(task.shot, wall);
  done.room = camera::roomForPeople(task.camera, task.shot, wall);
  done.warnings = camera::framingWarnings(task.camera, task.shot, wall, task.plan.wall.room);
  done.viewing = camera::viewingOf(task.shot, task.camera, task.plan.units);
  if (step) step("finding gaps");
  done.found = gaps::findGaps(buffer_, task.scene.panels, task.camera, pool_, gaps::GapMeasures::all, stop);
  return done;
}

void ShotSight::lookAgain(const scene::Scene& scene, const camera::Camera& camera,
                          const std::vector<plan::Person>& people, const camera::WallFrame& wall,
                          const std::stop_token& stop) {
  using Triangles = visibility::VisibilityRenderer::Triangles;
  renderer_.render(scene, camera, people, wall, buffer_, Triangles::unasked, stop);
}

}  // namespace petalproof::check
