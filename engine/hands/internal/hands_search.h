#pragma once
// Fillers for hands: those for perfect hands, changed and added to until what simulated builds show is hidden
// too; first what several builds show, then what any does, each time in builds not seen before.

#include "engine/candidates/must_hide.h"
#include "engine/hands/internal/for_hands.h"
#include "engine/hands/internal/hands_cover.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace petalproof::hands {

struct PerfectHands {
  std::vector<candidates::Candidate> chosen;
  candidates::MustHide hidden;    // what they hide of the plan, and still must
  std::vector<glm::dvec2> stays;  // the middles of gaps that they leave: nothing is asked of hands there
};

class HandsSearch {
 public:
  // Refers to what the tasks refer to. `progress`: the share done; may be empty.
  HandsSearch(const HandsTask& hands, const candidates::SearchTask& task, const fill::CleanWalls& asked,
              const PerfectHands& perfect, std::function<void(double)> progress);

  // Finds them. Where hardly any wall can come out clean, only those that help in most walls. Call outside
  // Workers::run, as hideToo. Problems: as of buildScene.
  std::vector<Problem> search();
  // What the plan itself still shows beside them.
  void hideToo(const candidates::MustHide& shown);

  std::vector<candidates::Candidate> chosen() const { return cover_.chosenFillers(); }
  // In words, where fewer walls are clean than were asked for.
  std::optional<std::string> whyNotClean(const fill::HandsReport& report) const;

 private:
  static constexpr int builds_to_be_sure = 200;
  static constexpr double hardly_any_share = 0.05;  // of walls: then none are as good
  struct Round {
    int builds;
    double least;  // what a filler must hide that no other does, in gaps of different builds
    Closeness closeness;
  };
  std::vector<Problem> look(const std::vector<candidates::Candidate>& hung, int builds, Closeness closeness);
  std::vector<Problem> go(const Round& round);
  std::vector<Problem> searchFinely(double done, double rounds);
  void changeFor(const HandsCover::Numbers& best, int looked, bool in_vain);
  std::vector<Problem> reduce();
  Result<bool> mendThinned(std::size_t fillers_before);
  std::vector<Problem> prune();
  std::vector<Problem> lookAgain();
  std::vector<Problem> onlyWorthIt();
  void hideWhatIsBare();
  void findLost(std::uint32_t from);
  void add(const HandsTraining::Looked& looked);
  void addOf(std::span<const GapOfHands> of_shot, const HandsTraining::Looked& looked);
  bool isEnough(std::optional<int> clean_before = std::nullopt) const;
  bool canBeEnough(int lost) const;
  double mayFail() const;
  double buildsMore() const;
  bool isHalfEnough() const;
  bool isEnoughAsItIs() const;
  std::string moreThanStock() const;
  std::string worstHopeless() const;
  std::string whyLost() const;
  std::string whyOnlyWorthIt(const std::string& more) const;
  bool stop() const { return hands_.cancelled && hands_.cancelled(); }

  HandsTask hands_;
  candidates::SearchTask task_;
  fill::CleanWalls asked_;
  std::vector<glm::dvec2> stays_;
  std::function<void(double)> progress_;
  HandsTraining training_;
  HandsCover cover_;
  std::uint32_t builds_ = 1;  // seen so far; 0 is the plan itself
  int tried_ = 0;             // builds, in the last round
  int clean_ = 0;             // of those
  int lost_ = 0;              // of those, with a place that no filler hides, wherever it fits
  int lost_of_many_ = 0;      // the same of the last many builds by hands as they are
  double looser_ = 1;         // than the hands are, those of the builds looked at
  double gaps_each_ = 0;      // that counted, in a build of those
  int best_clean_ = 0;        // of many builds, with the best choice so far
  int fillers_of_best_ = 0;
  int finely_ = 0;  // rounds with many builds
  bool worth_only_ = false;
  double can_be_clean_ = 1;  // share of the first builds in which a filler fits where anything shows
  std::vector<int> wanted_;  // by kind of the maker's, how many more than the stock would do
};

}  // namespace petalproof::hands
