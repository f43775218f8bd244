#pragma once
// Where new candidates are worth a close look.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace petalproof::candidates {

// All over the wall, what hides most of all that must be hidden. Best first; call within Workers::run, as
// the others that scan.
std::vector<Proposal> proposeAllOver(const SearchTask& task, const MustHide& all, double cell_mm);

// What would hide more than the chosen ones, each of which costs 1, shared by the pairs that only it hides.
std::vector<Proposal> proposeByPrice(const SearchTask& task, const CandidatePool& pool, const PairList& pairs,
                                     const std::vector<std::uint32_t>& chosen, double cell_mm);

// Shifted and turned a little.
std::vector<Proposal> proposeNear(const SearchTask& task, const CandidatePool& pool,
                                  const std::vector<std::uint32_t>& chosen);

// Fewer where several do now: what would hide all that only one chosen filler hides, or only two beside each
// other; or two, all that only three do.
std::vector<Proposal> proposeForSeveral(const SearchTask& task, const CandidatePool& pool,
                                        const PairList& pairs, const std::vector<Eye>& eyes,
                                        const std::vector<std::uint32_t>& chosen);

// Chosen fillers, by number in the pool, and others, shifted, that might hide all that only they hide.
struct Exchange {
  std::vector<std::uint32_t> out;
  std::vector<Proposal> in;
  std::vector<std::uint32_t> too;  // pairs that `in` might hide besides
};
// Fillers beside each other for one fewer. Call within Workers::run.
std::vector<Exchange> exchangesForFewer(const SearchTask& task, const CandidatePool& pool,
                                        const PairList& pairs, const std::vector<Eye>& eyes,
                                        const std::vector<std::uint32_t>& chosen);
// `fillers`, which are chosen, shifted so that they might hide the `more` pairs too; none if they can't.
std::optional<std::vector<Proposal>> shiftedFor(const SearchTask& task, const CandidatePool& pool,
                                                const PairList& pairs, const std::vector<Eye>& eyes,
                                                const std::vector<std::uint32_t>& chosen,
                                                const std::vector<std::uint32_t>& fillers,
                                                const std::vector<std::uint32_t>& more);

// A close look around places that no candidate hides.
std::vector<Proposal> proposeFor(const SearchTask& task, const std::vector<glm::dvec2>& places,
                                 double cell_mm);

// Hexagonal lattices in several phases over wide bare areas, for kinds that fit there: the thinnest way to
// cover a plane with discs (R. Kershner, "The number of circles covering a set", American Journal of
// Mathematics 61, 1939). `widest`: places that the best site hides.
std::vector<std::vector<Proposal>> proposeLattices(const SearchTask& task, const MustHide& all,
                                                   double widest);

}  // namespace petalproof::candidates
