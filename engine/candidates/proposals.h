#pragma once
// Proposes new candidates: all over the wall, near chosen fillers, around bare places, and as lattices.
// FillerSearch adds them to its pool.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"

#include <cstdint>
#include <vector>

namespace petalproof::candidates {

// The fillers all over the wall that hide most of what must be hidden, best first.
std::vector<Proposal> proposeAllOver(const SearchTask& task, const MustHide& all, double cell_mm);

// Fillers that would be worth more than they cost. Each chosen filler's cost of 1 is shared out among the
// pairs that only it hides; a proposal is worth the sum over the pairs that it hides.
std::vector<Proposal> proposeByPrice(const SearchTask& task, const CandidatePool& pool, const PairList& pairs,
                                     const std::vector<std::uint32_t>& chosen, double cell_mm);

// The chosen fillers, each shifted and turned a little in several ways.
std::vector<Proposal> proposeNear(const SearchTask& task, const CandidatePool& pool,
                                  const std::vector<std::uint32_t>& chosen);

// Fillers that hide most of the given places, from a close look around them.
std::vector<Proposal> proposeFor(const SearchTask& task, const std::vector<glm::dvec2>& places,
                                 double cell_mm);

// Hexagonal lattices in several phases over wide bare areas, for kinds that fit there: the thinnest way to
// cover a plane with discs (R. Kershner, "The number of circles covering a set", American Journal of
// Mathematics 61, 1939). `widest`: how many places the best site hides.
std::vector<std::vector<Proposal>> proposeLattices(const SearchTask& task, const MustHide& all,
                                                   double widest);

}  // namespace petalproof::candidates
