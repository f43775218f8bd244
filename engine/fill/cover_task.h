#pragma once
// Candidates as a cover problem, with the stock and the faces of larger blooms as its limits.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/search_task.h"
#include "engine/cover/cover.h"

#include <cstdint>
#include <vector>

namespace petalproof::fill {

// Of a cover problem's scores, for each move of its local search: on wide bare board, where each place has
// hundreds of candidates, a move takes ten times as long as usual.
constexpr std::uint64_t changes_each_move = 20'000;

// `values`: of the elements. `covers`: of each candidate, ascending.
cover::CoverProblem coverProblem(const candidates::SearchTask& task, const candidates::CandidatePool& pool,
                                 std::vector<double> values,
                                 const std::vector<std::vector<std::uint32_t>>& covers);

}  // namespace petalproof::fill
