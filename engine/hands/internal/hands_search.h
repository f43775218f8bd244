#pragma once
// Searches fillers for imperfect hands: starts from those for perfect hands, then adds and changes fillers
// round by round, each time for new simulated builds, until as many walls are clean as were asked for. First
// it hides gaps that several builds show, then any gap. fillPlan calls it.

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

// The fillers for perfect hands.
struct PerfectHands {
  std::vector<candidates::Candidate> chosen;
  candidates::MustHide hidden;    // the places of the plan that they hide, and that must stay hidden
  std::vector<glm::dvec2> stays;  // the middles of gaps that they leave: no filler is asked for there
};

class HandsSearch {
 public:
  // Refers to the values that the tasks refer to. `progress` gets the share done; may be empty.
  HandsSearch(const HandsTask& hands, const candidates::SearchTask& task, const fill::CleanWalls& asked,
              const PerfectHands& perfect, std::function<void(double)> progress);

  // Finds the fillers. Where hardly any wall can come out clean, it chooses only fillers that help in most
  // walls. Problems: as of buildScene.
  std::vector<Problem> search();
  // Adds fillers for what the plan itself still shows beside them.
  void hideToo(const candidates::MustHide& shown);

  std::vector<candidates::Candidate> chosen() const { return cover_.chosenFillers(); }
  // In words, if fewer walls are clean than were asked for.
  std::optional<std::string> whyNotClean(const fill::HandsReport& report) const;

 private:
  static constexpr int builds_to_be_sure = 200;
  static constexpr double hardly_any_share = 0.05;  // so few clean walls are worth no effort
  // A round of builds, and the fillers that it adds.
  struct Round {
    int builds;
    double least;  // gaps of different builds that a filler alone must hide to be kept
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
  void addGapsOfShot(std::span<const GapOfHands> of_shot, const HandsTraining::Looked& looked);
  bool isEnough(std::optional<int> clean_before = std::nullopt) const;
  bool canBeEnough(int lost) const;
  double mayFail() const;
  double buildsMore() const;
  bool isHalfEnough() const;
  bool isEnoughAsItIs() const;

  HandsTask hands_;
  candidates::SearchTask task_;
  fill::CleanWalls asked_;
  std::vector<glm::dvec2> stays_;
  std::function<void(double)> progress_;
  HandsTraining training_;
  HandsCover cover_;
  std::uint32_t builds_ = 1;  // next build's number; 0 is the plan itself
  int tried_ = 0;             // builds in the last look
  int clean_ = 0;             // clean builds among them
  int lost_ = 0;              // builds among them with a place that no filler hides
  int lost_of_many_ = 0;      // the same in the last look at builds_to_be_sure by hands as they are
  double looser_ = 1;         // factor on the hands' errors in the last look
  double gaps_each_ = 0;      // mean number of gaps in a build of the last look
  int best_clean_ = 0;        // clean builds of builds_to_be_sure, with the best choice so far
  int fillers_of_best_ = 0;   // of that choice
  int rounds_of_bare_ = 0;    // calls of hideWhatIsBare()
  bool worth_only_ = false;   // only fillers that help in most walls are chosen
  double can_be_clean_ = 1;   // share of the first builds in which a filler hides every place
  std::vector<int> wanted_;   // for each kind, how many more than the stock would hide something
};

}  // namespace petalproof::hands
