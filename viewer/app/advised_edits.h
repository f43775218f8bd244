#pragma once
// The advice for the chosen shot (engine/advice) as sentences with edits, each of which the person can try
// with a click. The advice panel of the window lists them.

#include "viewer/app/plan_edit.h"
#include "viewer/app/state.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

struct AdvisedEdit {
  std::string words;             // "f/5.6 in place of f/4: 2 show, 1 are faint then."
  std::optional<PlanEdit> edit;  // nothing: the sentence only reports
};

// Empty where advice was not asked for, or was asked for another shot.
std::vector<AdvisedEdit> advisedEdits(const State& state);

}  // namespace petalproof::app
