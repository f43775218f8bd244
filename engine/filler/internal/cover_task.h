#pragma once
// Candidates as a cover problem, with the stock and the faces of larger blooms as its limits.

#include "engine/filler/cover.h"
#include "engine/filler/internal/candidate_pool.h"
#include "engine/filler/internal/search_task.h"

#include <cstdint>
#include <vector>

namespace petalproof {

// Of a cover problem's scores, for each move of its local search: on wide bare board, where each place has
// hundreds of candidates, a move takes ten times as long as usual.
constexpr std::uint64_t changes_each_move = 20'000;

// `values`: of the elements. `covers`: of each candidate, ascending.
CoverProblem coverProblem(const SearchTask& task, const CandidatePool& pool, std::vector<double> values,
                          const std::vector<std::vector<std::uint32_t>>& covers);

}  // namespace petalproof
