#pragma once
// Says in words why fewer walls come out clean than were asked for. HandsSearch calls it with what its rounds
// of builds have found.

#include "engine/candidates/search_task.h"
#include "engine/fill/fill.h"
#include "engine/hands/internal/hand_demands.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::hands {

// The findings of a search, as far as the words need them; refers to values that must outlive it.
struct SearchOutcome {
  const candidates::SearchTask& task;
  const HandDemands& demands;
  fill::CleanWalls asked;
  std::vector<int> wanted_beyond_stock;         // for each kind, how many fillers more would hide something
  std::optional<std::uint32_t> worst_hopeless;  // a demand where most walls are left unclean, if enough may
                                                // be clean but for such demands
  int builds = 0;                               // looked at, at a time
  int with_hopeless = 0;                        // builds with a place that no filler hides
  int best_clean = 0;                           // builds that are clean with the best choice
  int fillers_of_best = 0;                      // of that choice
  bool worth_only =
      false;  // only fillers that help in most walls were chosen, as hardly any wall can be clean
  bool hardly_any =
      false;  // so few builds are clean with the best choice that it isn't worth saying how many
};

// "12 more of bud and 3 more of sage"; empty where the stock isn't in the way.
std::string moreThanStock(const candidates::SearchTask& task, const std::vector<int>& wanted_beyond_stock);

// Nothing where as many walls are clean as were asked for.
std::optional<std::string> whyNotClean(const SearchOutcome& found, const fill::HandsReport& report);

}  // namespace petalproof::hands
