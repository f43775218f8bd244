#include "engine/gaps/internal/flat_components.h"

#include <algorithm>
#include <utility>

namespace petalproof::gaps {
namespace {

// Union-find in which the smallest member is the root, so a root is its set's first run.
class RunSets {
 public:
  explicit RunSets(std::size_t count) : parents_(count) {
    for (std::size_t k = 0; k < count; ++k) parents_[k] = static_cast<std::uint32_t>(k);
  }
  std::uint32_t root(std::uint32_t k) {
    while (parents_[k] != k) {
      parents_[k] = parents_[parents_[k]];
      k = parents_[k];
    }
    return k;
  }
  void join(std::uint32_t a, std::uint32_t b) {
    a = root(a);
    b = root(b);
    if (a < b) std::swap(a, b);
    parents_[a] = b;
  }

 private:
  std::vector<std::uint32_t> parents_;
};

std::size_t endOfRow(std::span<const Run> runs, std::size_t begin) {
  std::size_t end = begin;
  while (end < runs.size() && runs[end].row == runs[begin].row) ++end;
  return end;
}

// Joins the runs [below, end) with those of the row above, [above, below), that touch them, if only at a
// corner.
void joinRows(std::span<const Run> runs, std::size_t above, std::size_t below, std::size_t end,
              RunSets& sets) {
  for (std::size_t k = below; k < end; ++k) {
    while (above < below && runs[above].end < runs[k].begin) ++above;
    for (std::size_t other = above; other < below && runs[other].begin <= runs[k].end; ++other)
      if (runs[other].label == runs[k].label)
        sets.join(static_cast<std::uint32_t>(other), static_cast<std::uint32_t>(k));
  }
}

RunSets joinedRuns(std::span<const Run> runs) {
  RunSets sets(runs.size());
  std::size_t above = 0;
  std::size_t row = 0;
  while (row < runs.size()) {
    const std::size_t end = endOfRow(runs, row);
    if (row > above && runs[above].row == runs[row].row - 1) joinRows(runs, above, row, end, sets);
    above = row;
    row = end;
  }
  return sets;
}

}  // namespace

FlatComponents flatComponents(std::span<const Run> runs) {
  RunSets sets = joinedRuns(runs);
  std::vector<std::uint32_t> component_of(runs.size());
  std::vector<std::size_t> counts;
  for (std::uint32_t k = 0; k < runs.size(); ++k) {
    const std::uint32_t root = sets.root(k);
    if (root == k) {
      component_of[k] = static_cast<std::uint32_t>(counts.size());
      counts.push_back(0);
    } else {
      component_of[k] = component_of[root];
    }
    ++counts[component_of[k]];
  }
  FlatComponents flat;
  flat.starts.assign(counts.size() + 1, 0);
  for (std::size_t c = 0; c < counts.size(); ++c) flat.starts[c + 1] = flat.starts[c] + counts[c];
  std::vector<std::size_t> next(flat.starts.begin(), flat.starts.end() - 1);
  flat.runs.resize(runs.size());
  for (std::size_t k = 0; k < runs.size(); ++k) flat.runs[next[component_of[k]]++] = runs[k];
  return flat;
}

std::int64_t pixelsOf(std::span<const Run> runs) {
  std::int64_t pixels = 0;
  for (const Run& run : runs) pixels += run.end - run.begin;
  return pixels;
}

}  // namespace petalproof::gaps
