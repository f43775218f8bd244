#pragma once
#include "engine/check/shot_sight.h"

namespace petalproof::check {

// Of the two ends of a zoom: more holes show, then more are faint, then more bare wall is in gaps.
bool worse(const ShotCheck& a, const ShotCheck& b);

}  // namespace petalproof::check
