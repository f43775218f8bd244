#include "engine/filler/internal/hands_search.h"

#include "engine/base/threads.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <set>
#include <utility>

namespace petalproof {
namespace {

constexpr int builds_more = 6;        // than asked for: not all builds are like those looked at
constexpr double too_many_gaps = 50;  // in a build, all shots together: no few fillers more mend that
constexpr double looser = 1.25;       // every other time

// As the plan would have them; their colours make no difference here.
LoadedPlan withFillers(const LoadedPlan& base, const FillerMaker& maker,
                       const std::vector<Candidate>& chosen) {
  LoadedPlan filled = base;
  for (const Candidate& one : chosen) {
    Filler filler;
    filler.placement.bloom = base.plan.blooms[static_cast<std::size_t>(maker.kinds()[one.kind].kind)].name;
    filler.placement.at = one.site.at;
    filler.placement.turn_deg = one.turn_deg;
    filled.plan.fillers.push_back(std::move(filler));
  }
  return filled;
}

}  // namespace

HandsSearch::HandsSearch(const HandsTask& hands, const SearchTask& task, const CleanWalls& asked,
                         const PerfectHands& perfect, std::function<void(double)> progress)
    : hands_(hands),
      task_(task),
      asked_(asked),
      stays_(perfect.stays),
      progress_(std::move(progress)),
      training_(hands),
      cover_(task_),
      wanted_(task.maker.kinds().size(), 0) {
  cover_.addPlanned(perfect.hidden);
  Workers(hands_.threads).run([&] { cover_.give(perfect.chosen); });
}

std::vector<Problem> HandsSearch::search() {
  constexpr std::array<Round, 4> coarse{{{24, 3}, {48, 2.5}, {64, 2}, {100, 1.5}}};
  constexpr int most_fine = 20;
  constexpr double rounds = coarse.size() + most_fine;
  constexpr int gaps_to_begin_with = 6'000;
  constexpr std::size_t few_gaps = 20;  // are looked at closely from the start
  std::size_t gaps = 1;
  for (const ShotCheck& shot : hands_.shots) gaps += shot.found.gaps.size();
  const int first = std::clamp(gaps_to_begin_with / static_cast<int>(gaps), 6, 24);
  if (cover_.chosen().empty() && isEnoughAsItIs()) return {};
  if (std::vector<Problem> problems = look({}, first); !problems.empty()) return problems;
  Workers workers(hands_.threads);
  workers.run([&] {
    cover_.proposeFrom(0, gaps < few_gaps ? Look::close : Look::wide);
    cover_.proposeForHopeless(Look::close);
    cover_.lookCloselyAtHopeless();
    can_be_clean_ = 1 - static_cast<double>(cover_.buildsWithHopeless(0)) / std::max(1, tried_);
    if (can_be_clean_ < hardly_any_share) return;
    cover_.cover(coarse[0].least);
    cover_.proposeCentred();
    cover_.cover(coarse[0].least);
  });
  if (can_be_clean_ < hardly_any_share) return onlyWorthIt();
  for (std::size_t k = 0; k < coarse.size() && !stop(); ++k) {
    if (progress_) progress_((static_cast<double>(k) + 1) / (rounds + 1));
    if (std::vector<Problem> problems = go(coarse[k]); !problems.empty()) return problems;
    if (gaps_each_ > too_many_gaps) return onlyWorthIt();
  }
  if (std::vector<Problem> problems = searchFinely(coarse.size() + 1.0, rounds + 1); !problems.empty())
    return problems;
  const bool is_any = best_clean_ >= hardly_any_share * builds_to_be_sure;
  const bool by_stock = is_any && !moreThanStock().empty();
  return isHalfEnough() || by_stock ? std::vector<Problem>() : onlyWorthIt();
}

// With many builds in each round; what does best by builds not seen before is the answer.
std::vector<Problem> HandsSearch::searchFinely(double done, double rounds) {
  constexpr int most_in_vain = 4;
  constexpr int rounds_to_tell = 3;  // whether it comes to anything
  int rounds_told = 0;
  HandsCover::Numbers best = cover_.chosen();
  for (int in_vain = 0; done < rounds && !stop(); ++done) {
    if (progress_) progress_(done / rounds);
    looser_ = looser_ == 1 ? looser : 1;
    const HandsCover::Numbers looked_at = cover_.chosen();
    if (std::vector<Problem> problems = go({builds_to_be_sure, 0}); !problems.empty()) return problems;
    if (looser_ != 1) continue;
    in_vain = clean_ > best_clean_ ? 0 : in_vain + 1;
    if (clean_ > best_clean_) best = looked_at;
    if (clean_ > best_clean_) fillers_of_best_ = static_cast<int>(looked_at.size());
    best_clean_ = std::max(best_clean_, clean_);
    if (isEnough()) return reduce();
    const bool leads_nowhere =
        ++rounds_told >= rounds_to_tell && best_clean_ < hardly_any_share * builds_to_be_sure;
    if (in_vain == most_in_vain || leads_nowhere) break;
    if (in_vain == 0) continue;
    cover_.choose(best);
    Workers(hands_.threads).run([&] { cover_.addBest(0, 0); });
  }
  cover_.choose(std::move(best));
  return prune();
}

// Without those that hardly any wall needs, where no fewer walls are clean then.
std::vector<Problem> HandsSearch::prune() {
  constexpr double hardly_any = 0.01;
  const HandsCover::Numbers best = cover_.chosen();
  Workers workers(hands_.threads);
  workers.run([&] { cover_.dropForFewWalls(hardly_any * builds_); });
  if (stop() || cover_.chosen().size() == best.size()) return {};
  if (std::vector<Problem> problems = lookAgain(); !problems.empty()) return problems;
  if (clean_ + builds_more < best_clean_) cover_.choose(best);
  return {};
}

// Without those that few walls need, as many as may be left out: first by a new choice among all, then of
// what there is. Each try in vain tells more of what they are needed for.
std::vector<Problem> HandsSearch::reduce() {
  const double may_fail = builds_ * (1 - static_cast<double>(asked_.clean) / asked_.of);
  constexpr int most_tries = 12;
  constexpr double least_share = 0.01;
  HandsCover::Numbers enough = cover_.chosen();
  double share = 0.5;
  for (int k = 0; k < most_tries && share > least_share && !stop(); ++k) {
    cover_.choose(enough);
    Workers workers(hands_.threads);
    workers.run([&] {
      if (k == 0) {
        cover_.proposeCentred();
        cover_.cover(0);
      }
      cover_.dropForFewWalls(share * may_fail);
    });
    if (k > 0 && cover_.chosen().size() >= enough.size()) break;
    if (cover_.chosen().size() >= enough.size()) continue;
    if (std::vector<Problem> problems = lookAgain(); !problems.empty()) return problems;
    if (isEnough())
      enough = cover_.chosen();
    else if (k > 0)
      share /= 2;
  }
  cover_.choose(std::move(enough));
  return {};
}

// At many builds, for how many come out clean.
std::vector<Problem> HandsSearch::lookAgain() {
  const std::uint32_t from = cover_.demands().size();
  if (std::vector<Problem> problems = look(cover_.chosenFillers(), builds_to_be_sure); !problems.empty())
    return problems;
  Workers workers(hands_.threads);
  workers.run([&] {
    cover_.proposeFrom(from, Look::close);
    findLost(from);
  });
  return {};
}

// What hides nothing in most walls is card for nothing, where the wall isn't clean all the same: better cut
// as spares, for where something does show on the day.
std::vector<Problem> HandsSearch::onlyWorthIt() {
  constexpr std::array<Round, 3> rounds{{{16, 8}, {32, 16}, {32, 16}}};
  worth_only_ = true;
  looser_ = 1;
  cover_.chooseGiven();
  for (std::size_t k = 0; k < rounds.size() && !stop(); ++k) {
    if (progress_) progress_(static_cast<double>(k + 1) / (rounds.size() + 1));
    if (std::vector<Problem> problems = go(rounds[k]); !problems.empty()) return problems;
  }
  return {};
}

std::vector<Problem> HandsSearch::look(const std::vector<Candidate>& hung, int builds) {
  Result<Scene> scene = buildScene(withFillers(hands_.base, task_.maker, hung));
  if (!scene) return std::move(scene.problems);
  const bool closely = builds == builds_to_be_sure;
  add(training_.look(*scene.value, builds, closely ? Closeness::asDelivered : Closeness::preview, looser_));
  return {};
}

std::vector<Problem> HandsSearch::go(const Round& round) {
  const std::uint32_t from = cover_.demands().size();
  if (std::vector<Problem> problems = look(cover_.chosenFillers(), round.builds); !problems.empty())
    return problems;
  if (isEnough() && looser_ == 1) return {};
  if (!worth_only_ && gaps_each_ > too_many_gaps) return {};
  Workers workers(hands_.threads);
  workers.run([&] {
    cover_.proposeFrom(from, Look::wide);
    if (!worth_only_) {
      if (round.least > 0) return cover_.cover(round.least);
      cover_.proposeForBare(Look::close);
      findLost(from);
    }
    worth_only_ ? cover_.addBest(round.least, from) : hideWhatIsBare();
    wanted_ = cover_.wantedBeyondStock();
  });
  return {};
}

// A new choice among all takes fewer, but does worse in builds not seen yet: so most of a good one, or of one
// that doesn't get good, stays as it is.
void HandsSearch::hideWhatIsBare() {
  constexpr double good_share = 0.7;
  constexpr int rounds_anew = 4;
  const int clean = std::max(best_clean_, looser_ == 1 ? clean_ : 0);
  const bool anew = finely_++ < rounds_anew && clean < good_share * builds_to_be_sure;
  const auto isBare = [&] { return !cover_.bare().empty(); };
  cover_.addBest(0, 0);
  if (anew && isBare()) cover_.exchangeForBare();
  if (!isBare()) return;
  cover_.lookCloselyAtBare();
  cover_.addBest(0, 0);
  if (!isBare()) return;
  anew ? cover_.exchangeForBare() : cover_.swapForBare();
  cover_.addBest(0, 0);
}

void HandsSearch::addOf(std::span<const GapOfHands> of_shot, const HandsTraining::Looked& looked) {
  const auto [build, shot] = std::pair(of_shot.front().build, of_shot.front().shot);
  std::vector<const HandBuild*> hung;
  for (const std::span<const HandBuild> builds : looked.hung) hung.push_back(&builds[build]);
  std::vector<std::vector<glm::dvec2>> places;
  for (const GapOfHands& gap : of_shot) places.push_back(gap.places_mm);
  cover_.addGaps(hands_.shots[shot].camera.position.mm, builds_ + static_cast<std::uint32_t>(build), hung,
                 places);
}

void HandsSearch::findLost(std::uint32_t from) {
  cover_.lookCloselyAtHopeless();
  lost_ = cover_.buildsWithHopeless(from);
  if (looser_ == 1 && tried_ == builds_to_be_sure) lost_of_many_ = lost_;
}

void HandsSearch::add(const HandsTraining::Looked& looked) {
  std::vector<GapOfHands> gaps;
  std::copy_if(looked.gaps.begin(), looked.gaps.end(), std::back_inserter(gaps),
               [&](const GapOfHands& gap) { return !staysNear(stays_, gap.centre_mm); });
  std::set<std::size_t> unclean;
  for (std::size_t from = 0, to = 0; from < gaps.size(); from = to) {
    const auto isOther = [&](const GapOfHands& gap) {
      return std::pair(gap.build, gap.shot) != std::pair(gaps[from].build, gaps[from].shot);
    };
    to = static_cast<std::size_t>(
        std::find_if(gaps.begin() + static_cast<std::ptrdiff_t>(from), gaps.end(), isOther) - gaps.begin());
    unclean.insert(gaps[from].build);
    addOf(std::span(gaps).subspan(from, to - from), looked);
  }
  builds_ += static_cast<std::uint32_t>(looked.builds());
  gaps_each_ = static_cast<double>(gaps.size()) / static_cast<double>(looked.builds());
  tried_ = static_cast<int>(looked.builds());
  lost_ = 0;
  clean_ = tried_ - static_cast<int>(unclean.size());
}

// With a few builds more to be sure, once there are many. Where too many can't be clean: of the others.
bool HandsSearch::isEnough() const {
  const int sure = tried_ >= builds_to_be_sure ? builds_more : 0;
  const int may_be_clean = canBeEnough(lost_) ? tried_ : tried_ - lost_;
  const int needed = (may_be_clean * asked_.clean + asked_.of - 1) / asked_.of;
  return clean_ >= std::min(may_be_clean, needed + sure);
}

// What is said of a filled plan holds for it when it is filled again.
bool HandsSearch::isEnoughAsItIs() const {
  const HandsReport report = reportOnHands(hands_, task_.scene, asked_, stays_);
  return report.clean * asked_.of >= report.builds * asked_.clean;
}

// Less, and what most walls don't need was better left out: who wants it all the same asks for fewer walls.
bool HandsSearch::isHalfEnough() const {
  return 2 * best_clean_ * asked_.of >= builds_to_be_sure * asked_.clean;
}

bool HandsSearch::canBeEnough(int lost) const { return (tried_ - lost) * asked_.of >= tried_ * asked_.clean; }

void HandsSearch::hideToo(const MustHide& shown) {
  Workers workers(hands_.threads);
  workers.run([&] {
    const std::uint32_t from = cover_.demands().size();
    cover_.addPlanned(shown);
    cover_.proposeFrom(from, Look::close);
    cover_.addBest(0, 0);
  });
}

}  // namespace petalproof
