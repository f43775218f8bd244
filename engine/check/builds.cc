#include "engine/check/builds.h"

#include "engine/base/stopping.h"
#include "engine/check/lost_strip.h"
#include "engine/check/preview_check.h"
#include "engine/gaps/bare_board.h"

#include <algorithm>
#include <cmath>

namespace petalproof::check {
namespace {

// Hands shift a gap about so far, the ends of a long one farther.
constexpr double same_gap_mm = 30;

// Of one shot in one build: the plan's gaps near which one counts, each once, and whether one counts
// elsewhere.
void addTo(ShotInBuilds& sum, const std::vector<gaps::Gap>& counting, const NearbyGaps& planned) {
  std::vector<std::size_t> shows;
  bool elsewhere = false;
  for (const gaps::Gap& gap : counting) {
    if (const auto near = planned.nearest(gap.centre_mm, same_gap_mm))
      shows.push_back(near->gap);
    else
      elsewhere = true;
  }
  std::sort(shows.begin(), shows.end());
  shows.erase(std::unique(shows.begin(), shows.end()), shows.end());
  for (const std::size_t gap : shows) ++sum.shows[gap];
  sum.elsewhere += elsewhere ? 1 : 0;
  sum.clean += counting.empty() ? 1 : 0;
}

void addTo(BuildsCheck& sum, const GapsOfBuild& found, const LostStrips& lost) {
  for (std::size_t shot = 0; shot < found.size(); ++shot)
    addTo(sum.shots[shot], found[shot], lost.planned(shot));
  sum.clean += isClean(found) ? 1 : 0;
  ++sum.builds;
}

// log of n over k.
double logChoose(int n, int k) {
  return std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
}

// The chance of `clean` or more of `builds`, each with chance p.
double chanceOfAtLeast(int clean, int builds, double p) {
  if (p <= 0) return clean == 0 ? 1 : 0;
  if (p >= 1) return 1;
  double sum = 0;
  for (int k = clean; k <= builds; ++k)
    sum += std::exp(logChoose(builds, k) + k * std::log(p) + (builds - k) * std::log1p(-p));
  return sum;
}

}  // namespace

bool isClean(const GapsOfBuild& found) {
  return std::all_of(found.begin(), found.end(), [](const auto& of_shot) { return of_shot.empty(); });
}

// What one thread looks with.
class BuildLook::Eyes {
 public:
  explicit Eyes(const BuildLook& look) : look_(look), built_(look.scene_) {}

  GapsOfBuild see(const scene::HandBuild& build) {
    built_.blooms = scene::builtBlooms(look_.scene_, build, look_.greenery_);
    const std::vector<visibility::TriangleBatch> batches = visibility::batchesOf(built_);
    GapsOfBuild counting(look_.views_.size());
    for (std::size_t shot = 0; shot < counting.size(); ++shot)
      addNoticed(shot, found(look_.views_[shot], batches), counting[shot]);
    return counting;
  }

 private:
  void addNoticed(std::size_t shot, gaps::GapsOfShot seen, std::vector<gaps::Gap>& noticed) const {
    for (gaps::Gap& gap : seen.gaps)
      if (look_.lost_.wouldBeNoticed(shot, seen, gap)) noticed.push_back(std::move(gap));
  }

  gaps::GapsOfShot found(const ShotView& view, std::span<const visibility::TriangleBatch> batches) {
    if (view.board.words.empty()) {
      renderer_.renderIds(built_, view.camera, buffer_);
      return gaps::findGaps(buffer_, built_.panels, view.camera, alone_, gaps::GapMeasures::widths);
    }
    coverage_.drawUncovered(batches, visibility::rasterViewOf(view.camera), view.board, bare_);
    return gaps::findGaps(bare_, built_.panels, view.camera, gaps::GapMeasures::widths);
  }

  const BuildLook& look_;
  scene::Scene built_;
  const Pool alone_{1};
  visibility::CoverageRasteriser coverage_{alone_};
  visibility::PixelMask bare_;
  visibility::VisibilityRenderer renderer_{alone_};
  visibility::VisibilityBuffer buffer_;
};

BuildLook::BuildLook(const plan::Plan& plan, const scene::Scene& scene, const std::vector<ShotCheck>& shots,
                     const LostStrips& lost, const Pool& pool, const BuildOptions& options)
    : scene_(scene),
      lost_(lost),
      pool_(pool),
      options_(options),
      greenery_(scene::greeneryOf(plan)),
      views_(shots.size()) {
  pool.forEach(shots.size(), [&](std::size_t shot) {
    ShotView& view = views_[shot];
    view.camera = cameraOf(shots[shot], options);
    if (!options.by_ids && visibility::CoverageRasteriser::holdsFor(view.camera))
      view.board = gaps::bareBoardMask(scene.panels, view.camera);
  });
}

camera::Camera BuildLook::cameraOf(const ShotCheck& shot, const BuildOptions& options) {
  return options.megapixels > 0 ? atPreviewSize(shot.camera, options.megapixels) : shot.camera;
}

std::vector<GapsOfBuild> BuildLook::look(std::span<const scene::HandBuild> builds) const {
  std::vector<GapsOfBuild> found(builds.size());
  pool_.forEachWith<Eyes>(builds.size(), *this, [&](std::size_t k, Eyes& eyes) {
    throwIfStopAsked(options_.stop);
    found[k] = eyes.see(builds[k]);
  });
  return found;
}

void forEachBuild(const BuildLook& look, const scene::Scene& scene, const scene::HandErrors& errors,
                  const BuildOptions& options, const std::function<void(const GapsOfBuild&)>& each) {
  constexpr int at_a_time = 32;  // then there is word of it
  for (int from = 0; from < options.builds; from += at_a_time) {
    if (options.progress) options.progress(static_cast<double>(from) / options.builds);
    std::vector<scene::HandBuild> builds;
    for (int k = from; k < std::min(from + at_a_time, options.builds); ++k)
      builds.emplace_back(scene, errors, options.seed, options.first + static_cast<std::uint64_t>(k));
    for (const GapsOfBuild& found : look.look(builds)) each(found);
  }
}

BuildsCheck checkBuilds(const plan::Plan& plan, const scene::Scene& scene,
                        const std::vector<ShotCheck>& shots, const scene::HandErrors& errors,
                        const Pool& pool, const BuildOptions& options) {
  const LostStrips lost(shots, options.at_most, plan.reading);
  const BuildLook look(plan, scene, shots, lost, pool, options);
  BuildsCheck sum;
  for (const ShotCheck& shot : shots)
    sum.shots.push_back({std::vector<int>(shot.found.gaps.size(), 0), 0, 0});
  forEachBuild(look, scene, errors, options, [&](const GapsOfBuild& found) { addTo(sum, found, lost); });
  return sum;
}

double atLeastClean(int clean, int builds, double confidence) {
  if (clean <= 0) return 0;
  double low = 0;
  double high = 1;
  for (int step = 0; step < 60; ++step) {
    const double middle = (low + high) / 2;
    (chanceOfAtLeast(clean, builds, middle) < 1 - confidence ? low : high) = middle;
  }
  return low;
}

}  // namespace petalproof::check
