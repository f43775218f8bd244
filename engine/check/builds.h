#pragma once
// What imperfect hands make of a wall: many simulated builds, each looked at by every shot.
//
// How a gap reads is not computed anew for each build. It comes from the reading of the plan's own gap that
// is nearest in the same shot, and from how much wider or narrower it is (engine/check/lost_strip.h); where
// there is none near, it counts. With no errors at all a build shows just what the plan shows.

#include "engine/base/pool.h"
#include "engine/check/shot_sight.h"
#include "engine/plan/plan.h"
#include "engine/scene/handmade.h"
#include "engine/scene/scene.h"
#include "engine/visibility/coverage_bits.h"

#include <cstdint>
#include <functional>
#include <span>
#include <stop_token>
#include <vector>

namespace petalproof::check {

class LostStrips;

struct BuildOptions {
  int builds = 200;
  std::uint64_t first = 0;  // number of the first build
  std::uint64_t seed = 1;
  reading::Reads at_most = reading::Reads::faint;  // what may be left: a gap that reads more counts
  double megapixels = 2;                           // of what is looked at; 0: as the shots have
  bool by_ids = false;                   // look at ids also where coverage bits say the same: slower
  std::function<void(double)> progress;  // the share done; may be empty
  std::stop_token stop;                  // asked for each build
};

struct ShotInBuilds {
  std::vector<int> shows;  // builds in which each gap of the plan counts, as found.gaps
  int elsewhere = 0;       // builds in which a gap counts where the plan has none
  int clean = 0;           // builds in which none counts
};

struct BuildsCheck {
  int builds = 0;
  int clean = 0;  // in every shot
  std::vector<ShotInBuilds> shots;
};

// Gaps that count in one build, by shot, as its camera sees them at preview size; their widths only.
using GapsOfBuild = std::vector<std::vector<gaps::Gap>>;
// No gap counts in any shot.
bool isClean(const GapsOfBuild& found);

// Looks at builds of a wall as the cameras of its shots see them, many side by side.
class BuildLook {
 public:
  // Refers to its arguments, which must outlive it. The result doesn't depend on the pool. `shots`: checked,
  // with readings, of this scene or of the same wall with fewer fillers; `lost`: of them. Of `options`, all
  // but which builds.
  BuildLook(const plan::Plan& plan, const scene::Scene& scene, const std::vector<ShotCheck>& shots,
            const LostStrips& lost, const Pool& pool, const BuildOptions& options);

  // The gaps of each build.
  std::vector<GapsOfBuild> look(std::span<const scene::HandBuild> builds) const;
  // What a shot is looked at through.
  static camera::Camera cameraOf(const ShotCheck& shot, const BuildOptions& options);

 private:
  struct ShotView {
    camera::Camera camera;
    visibility::PixelMask board;  // empty: the picture is one for ids
  };
  class Eyes;

  const scene::Scene& scene_;
  const LostStrips& lost_;
  const Pool& pool_;
  const BuildOptions& options_;
  std::vector<char> greenery_;
  std::vector<ShotView> views_;
};

// Calls `each` for every build that `options` ask for, in order, a few being looked at side by side.
void forEachBuild(const BuildLook& look, const scene::Scene& scene, const scene::HandErrors& errors,
                  const BuildOptions& options, const std::function<void(const GapsOfBuild&)>& each);

BuildsCheck checkBuilds(const plan::Plan& plan, const scene::Scene& scene,
                        const std::vector<ShotCheck>& shots, const scene::HandErrors& errors,
                        const Pool& pool, const BuildOptions& options);

// The share of which it can be said with this confidence that at least so many builds are clean, `clean` of
// `builds` being so: the lower end of a one-sided interval (C. Clopper, E. Pearson, "The use of confidence or
// fiducial limits illustrated in the case of the binomial", Biometrika 26, 1934).
double atLeastClean(int clean, int builds, double confidence);

}  // namespace petalproof::check
