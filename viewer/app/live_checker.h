#pragma once
// Checks the newest plan in threads of its own while the person edits: at preview size at once, in full after
// a pause in the edits. Previews have a pool of high priority and come before full checks. The session asks
// for checks after each edit and takes the results in each frame.

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
  std::vector<int> previews;  // shots to preview, indices into shotsOf(plan), the most urgent first
  std::vector<int> full;      // likewise, to check in full
};

struct LiveNews {
  int shot = 0;
  ShotResult result;
};

struct LiveOptions {
  int threads = 0;                      // 0: as many as the machine has
  double megapixels = 2;                // of a preview: sharp enough on the screen, quick enough for a drag
  std::chrono::milliseconds rest{300};  // full checks start when nothing was asked for so long
  std::chrono::milliseconds pause{60};  // likewise, previews of shots other than the first
  std::function<void()> wake;           // called from the workers' threads when there is news; may be empty
};

class LiveChecker {
 public:
  explicit LiveChecker(LiveOptions options);
  ~LiveChecker();  // running checks end at their next step

  // Replaces the task before, whose checks end at their next step.
  void ask(LiveTask task);
  // The results since the last call, in order. Never waits.
  std::vector<LiveNews> take();
  // Of the full checks: 0 to 1; 1 where none is asked for.
  double progress() const;
  bool busy() const;

 private:
  struct Asked;
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

// The results to show after a change of the plan, until new checks are done. Each shot keeps the result of
// the shot of the same name; it counts as current only where the shot and the rest of the plan are unchanged.
std::vector<ShotResult> resultsAfter(const Version& before, const std::vector<ShotResult>& known,
                                     const Version& after);

// True for plans that differ in nothing but their shots.
bool sameButForShots(const plan::Plan& a, const plan::Plan& b);

}  // namespace petalproof::app
