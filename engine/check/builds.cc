#include "engine/check/builds.h"

#include "engine/base/threads.h"
#include "engine/check/preview_check.h"

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

// Hands shift a gap about so far, the ends of a long one farther.
constexpr double same_gap_mm = 30;

// Of one build.
struct Outcome {
  std::vector<std::vector<std::size_t>> shows;  // by shot: the plan's gaps that count, each once
  std::vector<char> elsewhere;
  bool done = false;
};

Outcome outcomeOf(const std::vector<std::vector<Gap>>& found, const std::vector<ShotCheck>& shots) {
  Outcome outcome;
  outcome.done = true;
  for (std::size_t shot = 0; shot < shots.size(); ++shot) {
    std::vector<std::size_t> shows;
    bool elsewhere = false;
    for (const Gap& gap : found[shot]) {
      const auto planned = nearestGap(shots[shot].found.gaps, gap);
      if (planned && planned->distance_mm <= same_gap_mm)
        shows.push_back(planned->gap);
      else
        elsewhere = true;
    }
    std::sort(shows.begin(), shows.end());
    shows.erase(std::unique(shows.begin(), shows.end()), shows.end());
    outcome.shows.push_back(std::move(shows));
    outcome.elsewhere.push_back(elsewhere ? 1 : 0);
  }
  return outcome;
}

void addTo(BuildsCheck& sum, const Outcome& outcome) {
  bool all_clean = true;
  for (std::size_t shot = 0; shot < sum.shots.size(); ++shot) {
    ShotInBuilds& of = sum.shots[shot];
    for (const std::size_t gap : outcome.shows[shot]) ++of.shows[gap];
    of.elsewhere += outcome.elsewhere[shot];
    const bool clean = outcome.shows[shot].empty() && outcome.elsewhere[shot] == 0;
    of.clean += clean ? 1 : 0;
    all_clean = all_clean && clean;
  }
  sum.clean += all_clean ? 1 : 0;
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

BuildLook::BuildLook(const BuildLookInputs& inputs)
    : planned_(inputs.scene),
      shots_(inputs.shots),
      built_(inputs.scene),
      greenery_(greeneryOf(inputs.plan)),
      lost_(inputs.shots, inputs.options.at_most, inputs.plan.reading) {
  for (const ShotCheck& shot : shots_)
    cameras_.push_back(atPreviewSize(shot.camera, inputs.options.megapixels));
}

std::vector<std::vector<Gap>> BuildLook::look(const HandBuild& build) {
  built_.blooms = builtBlooms(planned_, build, greenery_);
  std::vector<std::vector<Gap>> found;
  for (std::size_t shot = 0; shot < cameras_.size(); ++shot) {
    renderer_.renderIds(built_, cameras_[shot], buffer_);
    GapsOfShot seen = findGaps(buffer_, built_.panels, cameras_[shot], 1);
    std::vector<Gap> counting;
    for (Gap& gap : seen.gaps)
      if (lost_.wouldBeNoticed(shot, gap)) counting.push_back(std::move(gap));
    found.push_back(std::move(counting));
  }
  return found;
}

BuildsCheck checkBuilds(const Plan& plan, const Scene& scene, const std::vector<ShotCheck>& shots,
                        const HandErrors& errors, const BuildOptions& options) {
  constexpr int at_a_time = 32;  // then there is word of it
  std::vector<Outcome> outcomes(static_cast<std::size_t>(std::max(0, options.builds)));
  const BuildLookInputs inputs{plan, scene, shots, options};
  Workers workers(options.threads);
  for (std::size_t from = 0; from < outcomes.size(); from += at_a_time) {
    if (options.cancelled && options.cancelled()) break;
    if (options.progress) options.progress(static_cast<double>(from) / static_cast<double>(outcomes.size()));
    const std::size_t count = std::min<std::size_t>(at_a_time, outcomes.size() - from);
    workers.run([&] {
      forEachWith<BuildLook>(count, inputs, [&](std::size_t k, BuildLook& helper) {
        const std::uint64_t number = options.first + from + k;
        outcomes[from + k] = outcomeOf(helper.look(HandBuild(scene, errors, options.seed, number)), shots);
      });
    });
  }
  BuildsCheck sum;
  for (const ShotCheck& shot : shots)
    sum.shots.push_back({std::vector<int>(shot.found.gaps.size(), 0), 0, 0});
  for (const Outcome& outcome : outcomes)
    if (outcome.done) addTo(sum, outcome);
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

}  // namespace petalproof
