#pragma once
// Makes a cover problem of a pool's candidates: they are the sets, stock and the faces of larger blooms the
// limits. FillerSearch calls it with pairs as elements, HandsCover with demands.

#include "engine/candidates/candidate_pool.h"
#include "engine/candidates/search_task.h"
#include "engine/cover/cover.h"

#include <cstdint>
#include <vector>

namespace petalproof::fill {

// CoverOptions::changes for each move: bounds the time on wide bare board, where each place has hundreds of
// candidates and a move takes ten times as long as usual.
constexpr std::uint64_t changes_each_move = 20'000;

// `values`: the elements' values. `covers`: the elements that each candidate covers, ascending.
cover::CoverProblem coverProblem(const candidates::SearchTask& task, const candidates::CandidatePool& pool,
                                 std::vector<double> values,
                                 const std::vector<std::vector<std::uint32_t>>& covers);

}  // namespace petalproof::fill
