#pragma once
// Rounds lengths that edits computed, so that a dragged bloom's place stays short in the plan file.

#include "engine/plan/plan.h"

namespace petalproof::app {

// To a ten-thousandth of the unit.
double tidied(double value);
inline Length tidied(Length length) { return {tidied(length.value)}; }
plan::TapePoint tidied(plan::TapePoint at);

}  // namespace petalproof::app
