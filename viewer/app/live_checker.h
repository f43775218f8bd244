#pragma once
// Checks the newest plan beside the hand: first at preview size, in full once the hand rests.

#include "viewer/app/plan_edit.h"
#include "viewer/app/state.h"

#include <chrono>
#include <functional>
#include <memory>
#include <vector>

namespace petalproof::app {

struct LiveTask {
  std::shared_ptr<const plan::LoadedPlan> plan;
  std::shared_ptr<const scene::Scene> scene;  // of that plan
  std::uint64_t revision = 0;
  std::vector<int> previews;  // shots, as shotsOf(plan), in the order wanted
  std::vector<int> full;
};

struct LiveNews {
  int shot = 0;
  ShotResult result;
};

struct LiveOptions {
  int threads = 0;  // 0: as many as the machine has
  double megapixels = 2;
  std::chrono::milliseconds rest{300};  // the hand rests when nothing was asked for so long
  std::chrono::milliseconds pause{60};  // of the hand, until shots other than the first are previewed
  std::function<void()> wake;           // called from the workers' threads when there is news; may be empty
};

class LiveChecker {
 public:
  explicit LiveChecker(LiveOptions options);
  ~LiveChecker();  // what is under way is left at its next step

  // Takes the place of what was asked before; work on that is left at its next step.
  void ask(LiveTask task);
  // What was found since the last call, in order. Never waits.
  std::vector<LiveNews> take();
  // Of the full check: 0 to 1; 1 where none is wanted.
  double progress() const;
  bool busy() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

// Which of the results known before a change still hold after it: those of shots that are the same, where all
// else of the plan is. Others are kept as of a moment ago, at the number of a shot of the same name.
std::vector<ShotResult> resultsAfter(const Version& before, const std::vector<ShotResult>& known,
                                     const Version& after);

// True for plans that differ in nothing but their shots.
bool sameButForShots(const plan::Plan& a, const plan::Plan& b);

}  // namespace petalproof::app
