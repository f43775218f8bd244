#include "engine/hands/internal/hands_search.h"

#include "engine/hands/internal/hands_hopeless.h"
#include "engine/hands/internal/hands_why.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <set>
#include <utility>

namespace petalproof::hands {
namespace {

constexpr double deviations_more =
    1.9;                              // clean builds beyond those asked for, as new builds may turn out worse
constexpr double too_many_gaps = 50;  // in a build, all shots together: additional fillers won't mend that
constexpr double looser = 1.25;       // factor on the hands' errors, every other look

// The plan with the chosen fillers; their colours make no difference here.
plan::LoadedPlan withFillers(const plan::LoadedPlan& base, const scene::FillerMaker& maker,
                             const std::vector<candidates::Candidate>& chosen) {
  plan::LoadedPlan filled = base;
  for (const candidates::Candidate& candidate : chosen) {
    const int kind = maker.kinds()[candidate.kind].kind;
    plan::Filler filler;
    filler.placement.bloom = base.plan.blooms[static_cast<std::size_t>(kind)].name;
    filler.placement.at = candidate.site.at;
    filler.placement.turn_deg = candidate.turn_deg;
    filled.plan.fillers.push_back(std::move(filler));
  }
  return filled;
}

}  // namespace

HandsSearch::HandsSearch(const HandsTask& hands, const candidates::SearchTask& task,
                         const fill::CleanWalls& asked, const PerfectHands& perfect,
                         std::function<void(double)> progress)
    : hands_(hands),
      task_(task),
      asked_(asked),
      stays_(perfect.stays),
      progress_(std::move(progress)),
      training_(hands),
      cover_(task_),
      wanted_(task.maker.kinds().size(), 0) {
  cover_.addPlanned(perfect.hidden);
  cover_.give(perfect.chosen);
}

std::vector<Problem> HandsSearch::search() {
  constexpr Closeness roughly = Closeness::preview;
  constexpr std::array<Round, 4> coarse{
      {{24, 3, roughly}, {48, 2.5, roughly}, {64, 2, roughly}, {100, 1.5, roughly}}};
  constexpr int most_fine = 20;
  constexpr double rounds = coarse.size() + most_fine;
  constexpr int gaps_to_begin_with = 6'000;  // of the first look: as many builds as show about so many
  constexpr int fewest_builds = 6;
  constexpr int most_builds = 24;
  constexpr std::size_t few_gaps = 20;  // so few are looked at closely from the start
  std::size_t gaps = 1;
  for (const check::ShotCheck& shot : hands_.shots) gaps += shot.found.gaps.size();
  const int first = std::clamp(gaps_to_begin_with / static_cast<int>(gaps), fewest_builds, most_builds);
  if (cover_.chosen().empty() && isEnoughAsItIs()) return {};
  if (std::vector<Problem> problems = look({}, first, Closeness::preview); !problems.empty()) return problems;
  cover_.proposeFrom(0, gaps < few_gaps ? Look::close : Look::wide);
  cover_.proposeForHopeless(Look::close);
  cover_.lookCloselyAtHopeless();
  can_be_clean_ = 1 - static_cast<double>(cover_.buildsWithHopeless(0)) / std::max(1, tried_);
  if (can_be_clean_ < hardly_any_share) return onlyWorthIt();
  cover_.cover(coarse[0].least);
  cover_.proposeCentred();
  cover_.cover(coarse[0].least);
  for (std::size_t k = 0; k < coarse.size(); ++k) {
    if (progress_) progress_((static_cast<double>(k) + 1) / (rounds + 1));
    if (std::vector<Problem> problems = go(coarse[k]); !problems.empty()) return problems;
    if (gaps_each_ > too_many_gaps) return onlyWorthIt();
  }
  if (std::vector<Problem> problems = searchFinely(coarse.size() + 1.0, rounds + 1); !problems.empty())
    return problems;
  const bool is_any = best_clean_ >= hardly_any_share * builds_to_be_sure;
  const bool by_stock = is_any && !moreThanStock(task_, wanted_).empty();
  return isHalfEnough() || by_stock ? std::vector<Problem>() : onlyWorthIt();
}

// Rounds with many builds each; the choice that does best in builds not seen before is the answer. As long as
// most walls aren't clean, a choice that hides everything seen is thinned out before the next look: that
// shows what the removed fillers were good for, and those that more than a few walls need are added again. In
// later rounds fillers are only added.
std::vector<Problem> HandsSearch::searchFinely(double done, double rounds) {
  constexpr int most_in_vain = 4;
  constexpr int rounds_to_tell = 6;  // then give up if hardly any wall is clean
  constexpr double many_gaps = 10;   // in a build: then few builds show enough to go on with
  constexpr Round few_builds{40, 0, Closeness::asDelivered};
  constexpr Round many_builds{builds_to_be_sure, 0, Closeness::asDelivered};
  HandsCover::Numbers best = cover_.chosen();
  bool is_enough = false;
  for (int looked = 0, in_vain = 0; done < rounds && in_vain < most_in_vain; ++done) {
    if (progress_) progress_(done / rounds);
    const bool few = gaps_each_ > many_gaps;
    looser_ = few || looser_ != 1 ? 1 : looser;
    const HandsCover::Numbers looked_at = cover_.chosen();
    if (std::vector<Problem> problems = go(few ? few_builds : many_builds); !problems.empty())
      return problems;
    is_enough = looser_ == 1 && !few && isEnough();
    if (looser_ == 1 && !few) {
      in_vain = clean_ > best_clean_ ? 0 : in_vain + 1;
      if (clean_ > best_clean_) best = looked_at;
      best_clean_ = std::max(best_clean_, clean_);
    }
    if (is_enough) break;
    if (++looked >= rounds_to_tell && best_clean_ < hardly_any_share * builds_to_be_sure) break;
    changeFor(best, looked, in_vain > 0);
  }
  fillers_of_best_ = static_cast<int>(best.size());
  cover_.choose(std::move(best));
  if (is_enough) return reduce();
  return best_clean_ < hardly_any_share * builds_to_be_sure ? std::vector<Problem>() : prune();
}

void HandsSearch::changeFor(const HandsCover::Numbers& best, int looked, bool in_vain) {
  // By look: which share of the walls that may be unclean may need the removed fillers.
  constexpr std::array<double, 9> thinned{0.25, 0.25, 0.25, 0.12, 0.12, 0.12, 0.12, 0.06, 0.06};
  constexpr double most_share = 0.8;  // of clean walls: above it nothing is removed
  if (looked <= std::ssize(thinned) && best_clean_ < most_share * builds_to_be_sure)
    return cover_.dropForFewWalls(thinned[static_cast<std::size_t>(looked - 1)] * mayFail());
  if (!in_vain) return;
  cover_.choose(best);
  cover_.addBest(0, 0);
}

// Removes fillers that few walls need, as many as may be left out. Each try in vain shows better what they
// are needed for.
std::vector<Problem> HandsSearch::reduce() {
  constexpr int most_tries = 5;
  constexpr double least_share = 0.01;
  HandsCover::Numbers enough = cover_.chosen();
  double share = 0.1;  // of the walls that may be unclean, as in changeFor()
  for (int k = 0; k < most_tries && share > least_share; ++k) {
    cover_.choose(enough);
    cover_.dropForFewWalls(share * mayFail());
    Result<bool> is_enough = mendThinned(enough.size());
    if (!is_enough) return std::move(is_enough.problems);
    if (*is_enough.value)
      enough = cover_.chosen();
    else
      share /= 2;
  }
  cover_.choose(std::move(enough));
  return {};
}

// Whether a thinned choice is enough; if it nearly is, fillers are added first. It must be enough in two
// looks taken together, because the best of many tries looks better than it is.
Result<bool> HandsSearch::mendThinned(std::size_t fillers_before) {
  constexpr int most_mended = 5;
  constexpr double nearly = 0.9;  // of the clean walls asked for
  for (int mended = 0; cover_.chosen().size() < fillers_before; ++mended) {
    const std::uint32_t from = cover_.demands().size();
    if (std::vector<Problem> problems = lookAgain(); !problems.empty())
      return Result<bool>::failure(std::move(problems));
    const int clean_before = clean_;
    if (isEnough()) {
      if (std::vector<Problem> problems = lookAgain(); !problems.empty())
        return Result<bool>::failure(std::move(problems));
      if (isEnough(clean_before)) return Result<bool>::success(true);
    }
    if (mended == most_mended || clean_ < nearly * (1 - mayFail()) * builds_to_be_sure) break;
    cover_.addBest(0, from);
  }
  return Result<bool>::success(false);
}

// Removes fillers that hardly any wall needs, if no fewer walls are clean then.
std::vector<Problem> HandsSearch::prune() {
  constexpr double hardly_any = 0.01;
  const HandsCover::Numbers best = cover_.chosen();
  cover_.dropForFewWalls(hardly_any);
  if (cover_.chosen().size() == best.size()) return {};
  if (std::vector<Problem> problems = lookAgain(); !problems.empty()) return problems;
  if (clean_ + buildsMore() < best_clean_) cover_.choose(best);
  return {};
}

// Looks at many new builds to see how many come out clean.
std::vector<Problem> HandsSearch::lookAgain() {
  const std::uint32_t from = cover_.demands().size();
  if (std::vector<Problem> problems = look(cover_.chosenFillers(), builds_to_be_sure, Closeness::asDelivered);
      !problems.empty())
    return problems;
  cover_.proposeFrom(from, Look::close);
  findLost(from);
  return {};
}

// Chooses only fillers that help in most walls. Where walls won't be clean anyway, other fillers would be
// card for nothing: better cut as spares for what shows on the day.
std::vector<Problem> HandsSearch::onlyWorthIt() {
  constexpr Closeness roughly = Closeness::preview;
  constexpr std::array<Round, 3> rounds{{{16, 8, roughly}, {32, 16, roughly}, {32, 16, roughly}}};
  worth_only_ = true;
  looser_ = 1;
  cover_.chooseGiven();
  for (std::size_t k = 0; k < rounds.size(); ++k) {
    if (progress_) progress_(static_cast<double>(k + 1) / (rounds.size() + 1));
    if (std::vector<Problem> problems = go(rounds[k]); !problems.empty()) return problems;
  }
  return {};
}

std::vector<Problem> HandsSearch::look(const std::vector<candidates::Candidate>& hung, int builds,
                                       Closeness closeness) {
  Result<scene::Scene> scene = scene::buildScene(withFillers(hands_.base, task_.maker, hung));
  if (!scene) return std::move(scene.problems);
  cover_.lookedAt(builds, hung);
  add(training_.look(*scene.value, builds, closeness, looser_));
  return {};
}

std::vector<Problem> HandsSearch::go(const Round& round) {
  const std::uint32_t from = cover_.demands().size();
  if (std::vector<Problem> problems = look(cover_.chosenFillers(), round.builds, round.closeness);
      !problems.empty())
    return problems;
  if (isEnough() && looser_ == 1) return {};
  if (!worth_only_ && gaps_each_ > too_many_gaps) return {};
  cover_.proposeFrom(from, Look::wide);
  if (!worth_only_ && round.least > 0) {
    cover_.cover(round.least);
    return {};
  }
  if (!worth_only_) {
    cover_.proposeForBare(Look::close);
    findLost(from);
  }
  worth_only_ ? cover_.addBest(round.least, from) : hideWhatIsBare();
  wanted_ = cover_.wantedBeyondStock();
  return {};
}

// Changes the choice for bare demands. A choice made anew takes fewer fillers but does worse in builds not
// seen yet: so it is made anew only in the first rounds, and not once it is good.
void HandsSearch::hideWhatIsBare() {
  constexpr double good_share = 0.7;
  constexpr int rounds_anew = 4;
  const int clean = std::max(best_clean_, looser_ == 1 ? clean_ : 0);
  const bool anew = rounds_of_bare_++ < rounds_anew && clean < good_share * builds_to_be_sure;
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

void HandsSearch::addGapsOfShot(std::span<const GapOfHands> of_shot, const HandsTraining::Looked& looked) {
  const auto [build, shot] = std::pair(of_shot.front().build, of_shot.front().shot);
  std::vector<const scene::HandBuild*> hung;
  for (const std::span<const scene::HandBuild> builds : looked.hung) hung.push_back(&builds[build]);
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
    addGapsOfShot(std::span(gaps).subspan(from, to - from), looked);
  }
  builds_ += static_cast<std::uint32_t>(looked.builds());
  gaps_each_ = static_cast<double>(gaps.size()) / static_cast<double>(looked.builds());
  tried_ = static_cast<int>(looked.builds());
  lost_ = 0;
  clean_ = tried_ - static_cast<int>(unclean.size());
}

// Whether as many builds are clean as were asked for; after a look at many builds, a few more, to be sure.
// Where too many builds can't be clean, only the others count. `clean_before`: clean builds in an earlier
// look at as many builds.
bool HandsSearch::isEnough(std::optional<int> clean_before) const {
  const double sure = tried_ >= builds_to_be_sure ? buildsMore() : 0;
  const int may_be_clean = canBeEnough(lost_) ? tried_ : tried_ - lost_;
  const int needed = (may_be_clean * asked_.clean + asked_.of - 1) / asked_.of;
  const double clean = clean_before ? 0.5 * (clean_ + *clean_before) : clean_;
  return clean >= std::min<double>(may_be_clean, needed + sure);
}

// Whether the plan is clean enough without new fillers, judged as a filled plan is: so filling it again adds
// none.
bool HandsSearch::isEnoughAsItIs() const {
  const fill::HandsReport report = reportOnHands(hands_, task_.scene, asked_, stays_);
  return report.clean * asked_.of >= report.builds * asked_.clean;
}

// Whether at least half as many walls are clean as were asked for. If not, fillers that most walls don't need
// are better left out; whoever wants them asks for fewer clean walls.
bool HandsSearch::isHalfEnough() const {
  return 2 * best_clean_ * asked_.of >= builds_to_be_sure * asked_.clean;
}

// How many clean builds more are needed to be sure, by the deviation of a binomial number: 6 of 200 for 19
// in 20.
double HandsSearch::buildsMore() const {
  return deviations_more * std::sqrt(builds_to_be_sure * mayFail() * (1 - mayFail()));
}

// The share of walls that may be unclean.
double HandsSearch::mayFail() const { return 1 - static_cast<double>(asked_.clean) / asked_.of; }

bool HandsSearch::canBeEnough(int lost) const { return (tried_ - lost) * asked_.of >= tried_ * asked_.clean; }

std::optional<std::string> HandsSearch::whyNotClean(const fill::HandsReport& report) const {
  std::optional<std::uint32_t> worst;
  if (!canBeEnough(lost_of_many_)) worst = worstHopeless(cover_.demands(), cover_.hopeless());
  const bool hardly_any = best_clean_ < hardly_any_share * builds_to_be_sure;
  return hands::whyNotClean({task_, cover_.demands(), asked_, wanted_, worst, builds_to_be_sure,
                             lost_of_many_, best_clean_, fillers_of_best_, worth_only_, hardly_any},
                            report);
}

void HandsSearch::hideToo(const candidates::MustHide& shown) {
  const std::uint32_t from = cover_.demands().size();
  cover_.addPlanned(shown);
  cover_.proposeFrom(from, Look::close);
  cover_.addBest(0, 0);
}

}  // namespace petalproof::hands
