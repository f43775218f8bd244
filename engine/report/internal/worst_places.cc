#include "engine/report/internal/worst_places.h"

#include "engine/report/internal/spots.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace petalproof::report {
namespace {

using OwnerKey = std::tuple<int, int, int, bool>;

OwnerKey keyOf(const gaps::Owner& owner) {
  return {owner.row, owner.column, static_cast<int>(owner.kind), owner.upright};
}

struct Tally {
  WorstPlace place;
  std::size_t last_shot = 0;  // counted from 1
};

void count(Tally& tally, const gaps::Gap& gap, std::size_t shot) {
  tally.place.owner = gap.owner;
  tally.place.shots += tally.last_shot == shot ? 0 : 1;
  tally.place.widest_mm = std::max(tally.place.widest_mm, gap.width_mm);
  tally.place.area_mm2 += gap.area_mm2;
  tally.last_shot = shot;
}

}  // namespace

std::vector<WorstPlace> worstPlaces(const check::Check& check) {
  std::map<OwnerKey, Tally> tallies;
  for (std::size_t k = 0; k < check.shots.size(); ++k) {
    const check::ShotCheck& shot = check.shots[k];
    for (const gaps::Gap& gap : shot.found.gaps)
      if (check::readsOf(shot, gap) != reading::Reads::lost && !isSliver(gap))
        count(tallies[keyOf(gap.owner)], gap, k + 1);
  }
  std::vector<WorstPlace> places;
  for (const auto& entry : tallies) places.push_back(entry.second.place);
  std::stable_sort(places.begin(), places.end(), [](const WorstPlace& a, const WorstPlace& b) {
    return std::tuple(-a.shots, -a.widest_mm, -a.area_mm2) < std::tuple(-b.shots, -b.widest_mm, -b.area_mm2);
  });
  return places;
}

}  // namespace petalproof::report
