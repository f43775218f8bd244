#pragma once
// Which chosen sets use each resource. CoverState adds and removes sets as they are chosen and unchosen.

#include "engine/cover/cover.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace petalproof::cover {

class ResourceUsers {
 public:
  // Starts with no users. Refers to `problem`, which must outlive it.
  explicit ResourceUsers(const CoverProblem& problem) : problem_(problem), users_(problem.limits.size()) {
    first_.reserve(problem.sets.size());
    std::size_t uses = 0;
    for (const CoverSet& set : problem.sets) {
      first_.push_back(uses);
      uses += set.uses.size();
    }
    place_.resize(uses);
  }

  // `set` must not be among the users.
  void add(std::uint32_t set) {
    forEachUse(set, [&](std::uint32_t resource, std::size_t use) {
      place_[use] = static_cast<std::uint32_t>(users_[resource].sets.size());
      users_[resource].sets.push_back(set);
      users_[resource].uses.push_back(use);
    });
  }
  // `set` must be among the users.
  void remove(std::uint32_t set) {
    forEachUse(set, [&](std::uint32_t resource, std::size_t use) {
      auto& [sets, uses] = users_[resource];
      const std::uint32_t place = place_[use];
      sets[place] = sets.back();
      uses[place] = uses.back();
      place_[uses[place]] = place;
      sets.pop_back();
      uses.pop_back();
    });
  }

  // The sets that use the resource, in no particular order.
  const std::vector<std::uint32_t>& of(std::uint32_t resource) const { return users_[resource].sets; }

 private:
  struct Users {
    std::vector<std::uint32_t> sets;
    std::vector<std::size_t> uses;  // beside `sets`: the use's number in the problem
  };
  template <class Visit>
  void forEachUse(std::uint32_t set, const Visit& visit) const {
    const auto& uses = problem_.sets[set].uses;
    for (std::size_t k = 0; k < uses.size(); ++k)
      if (uses[k].second > 0) visit(uses[k].first, first_[set] + k);
  }

  const CoverProblem& problem_;
  std::vector<std::size_t> first_;    // number of each set's first use
  std::vector<std::uint32_t> place_;  // of each use: its index among the resource's users
  std::vector<Users> users_;          // by resource
};

}  // namespace petalproof::cover
