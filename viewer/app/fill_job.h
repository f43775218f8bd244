#pragma once
// The search for fillers, beside the hand.

#include "engine/base/problem.h"
#include "engine/filler/fill.h"
#include "engine/plan/read_plan.h"
#include "viewer/app/state.h"

#include <functional>
#include <memory>
#include <optional>

namespace petalproof::app {

class FillJob {
 public:
  // Starts at once. `wake`: called from the worker's thread when there is news; may be empty. The options'
  // own progress and cancelled are not used.
  FillJob(std::shared_ptr<const LoadedPlan> plan, FillOptions options, std::function<void()> wake);
  ~FillJob();  // stops it, and waits for that

  void stop();
  FillProgress progress() const;
  // The result, once, when there is one.
  std::optional<Result<FillResult>> take();

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

// What is worth telling of a result.
FillNews newsOf(const FillResult& result);

}  // namespace petalproof::app
