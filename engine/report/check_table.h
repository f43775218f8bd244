#pragma once
// Tells a check in words and columns for a terminal; the command `check` prints it.

#include "engine/advice/advice.h"
#include "engine/check/check.h"
#include "engine/plan/read_plan.h"

#include <cstddef>
#include <string>

namespace petalproof::report {

// `worst`: of each shot the first 20 spots are listed and the others counted.
enum class ListedSpots { worst, all };
constexpr std::size_t most_listed_spots = 20;

// Every shot with its frame and its spots, worst first, then what comes up most often over all shots. Lengths
// in the plan's unit; `advice` at the end, where it was asked for. Lines of at most 100 characters where the
// plan's own names allow it.
std::string checkTable(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                       ListedSpots listed = ListedSpots::worst, const advice::Advice* advice = nullptr);

}  // namespace petalproof::report
