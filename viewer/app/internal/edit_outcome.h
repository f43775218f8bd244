#pragma once
// The outcome of an edit of a plan. Each change() in this folder returns it to edited() (plan_edit.h).

#include "viewer/app/references.h"

#include <optional>
#include <string>
#include <utility>

namespace petalproof::app {

struct EditOutcome {
  std::string name;                    // of the step, for Undo: "move bud on drift"
  std::optional<std::string> refused;  // the reason; the plan may then be half changed and is dropped
  std::optional<Selection> selection;  // the new selection, where the edit sets it
};

inline EditOutcome made(std::string name) { return {std::move(name), std::nullopt, std::nullopt}; }
inline EditOutcome refused(std::string reason) { return {{}, std::move(reason), std::nullopt}; }

}  // namespace petalproof::app
