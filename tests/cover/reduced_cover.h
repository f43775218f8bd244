#pragma once
// A set cover made smaller without changing how few sets cover all.

#include "engine/cover/cover.h"

namespace petalproof {

// Of equal sets one is kept, none that another holds whole, and no element whose sets all cover some other
// one that is kept. Weights 1, no limits, no conflicts; elements that no set covers are left out.
cover::CoverProblem reduced(const cover::CoverProblem& problem);

// Only elements are left out: those whose sets all cover some other one that is kept. All else stays.
cover::CoverProblem withFewerElements(const cover::CoverProblem& problem);

}  // namespace petalproof
