#include "engine/check/shot_sight.h"

#include "engine/base/threads.h"
#include "engine/check/internal/worse_end.h"

#include <tuple>

namespace petalproof {
namespace {

double bareInGaps(const ShotCheck& shot) {
  double sum = shot.found.specks.area_mm2;
  for (const Gap& gap : shot.found.gaps) sum += gap.area_mm2;
  return sum;
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

bool worse(const ShotCheck& a, const ShotCheck& b) {
  const auto rank = [](const ShotCheck& shot) {
    const ReadingCounts counts = countsOf(shot.readings);
    return std::tuple(counts.show, counts.faint, bareInGaps(shot));
  };
  return rank(a) > rank(b);
}

ShotCheck ShotSight::see(const SightTask& task, const Step& step) {
  const WallFrame wall = wallFrameOf(task.plan);
  ShotCheck done;
  done.shot = task.shot;
  done.lens = task.shot.lens;
  done.camera = task.camera;
  if (step) step("seeing the wall");
  using Triangles = VisibilityRenderer::Triangles;
  renderer_.render(task.scene, task.camera, task.shot.people, wall, buffer_,
                   task.triangles ? Triangles::asked : Triangles::unasked);
  done.focus = focusOf(task.camera, task.shot, wall);
  Workers(threads_).run([&] { done.shares = sharesOf(buffer_); });
  done.off = offWall(task.camera, wall);
  done.remedy = remedyFor(task.shot, wall);
  done.room = roomForPeople(task.camera, task.shot, wall);
  done.warnings = framingWarnings(task.camera, task.shot, wall, task.plan.wall.room);
  done.viewing = viewingOf(task.shot, task.camera, task.plan.units);
  if (step) step("finding gaps");
  done.found = findGaps(buffer_, task.scene.panels, task.camera, threads_);
  return done;
}

void ShotSight::lookAgain(const Scene& scene, const Camera& camera, const std::vector<Person>& people,
                          const WallFrame& wall) {
  renderer_.render(scene, camera, people, wall, buffer_);
}

}  // namespace petalproof
