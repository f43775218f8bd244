#pragma once
// What was found that would help a shot, as edits that can be tried.

#include "viewer/app/plan_edit.h"
#include "viewer/app/state.h"

#include <optional>
#include <string>
#include <vector>

namespace petalproof::app {

struct AdvisedEdit {
  std::string words;             // "f/5.6 in place of f/4: 2 show, 1 are faint then."
  std::optional<PlanEdit> edit;  // nothing: there is nothing to try
};

// For the chosen shot; empty where nobody asked, or asked for another.
std::vector<AdvisedEdit> advisedEdits(const State& state);

}  // namespace petalproof::app
