#pragma once
// Proposes how fewer fillers could hide what several chosen ones hide, or how chosen fillers could shift to
// hide a few pairs more. FillerSearch tries the proposals out.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/candidates.h"
#include "engine/candidates/must_hide.h"
#include "engine/candidates/scan.h"
#include "engine/candidates/search_task.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace petalproof::candidates {

// Proposes replacements: one filler that hides everything that a chosen filler (or two adjacent ones) alone
// hides, or two fillers that hide what three alone hide.
std::vector<Proposal> proposeForSeveral(const SearchTask& task, const CandidatePool& pool,
                                        const PairList& pairs, const std::vector<Eye>& eyes,
                                        const std::vector<std::uint32_t>& chosen);

// Chosen fillers to remove, by number in the pool, and fillers to put in their place, which might hide
// everything that only the removed ones hide.
struct Exchange {
  std::vector<std::uint32_t> out;
  std::vector<Proposal> in;
  std::vector<std::uint32_t> too;  // pairs that `in` might hide besides
};
// Exchanges of neighbouring fillers for one fewer.
std::vector<Exchange> exchangesForFewer(const SearchTask& task, const CandidatePool& pool,
                                        const PairList& pairs, const std::vector<Eye>& eyes,
                                        const std::vector<std::uint32_t>& chosen);

// The chosen `fillers`, shifted so that they might hide the `wanted` pairs too; none if they can't.
std::optional<std::vector<Proposal>> shiftedFor(const SearchTask& task, const CandidatePool& pool,
                                                const PairList& pairs, const std::vector<Eye>& eyes,
                                                const std::vector<std::uint32_t>& chosen,
                                                const std::vector<std::uint32_t>& fillers,
                                                const std::vector<std::uint32_t>& wanted);

}  // namespace petalproof::candidates
