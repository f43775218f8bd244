#include "engine/filler/internal/hands_search.h"

#include "engine/base/threads.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numeric>
#include <set>
#include <utility>

namespace petalproof {
namespace {

constexpr int builds_more = 6;  // than asked for: not all builds are like those looked at
constexpr int builds_to_be_sure = 200;
constexpr double too_many_gaps = 50;       // in a build, all shots together: no few fillers more mend that
constexpr double looser = 1.25;            // every other time
constexpr double hardly_any_share = 0.05;  // of walls: then none are as good
constexpr float planned_weight = 8;        // against 1 of a gap of a build
constexpr int planned_apart = 4;           // places of the grid each way

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

std::vector<Proposal> proposalsOf(const std::vector<Candidate>& chosen) {
  std::vector<Proposal> proposals;
  for (const Candidate& one : chosen) proposals.push_back({one.kind, one.site.board_mm, one.turn_deg, 0});
  return proposals;
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
      pool_(task),
      demands_(task.maker, {task.scene.panels.width_mm(), task.scene.panels.height_mm()}),
      wanted_(task.maker.kinds().size(), 0) {
  addPlanned(perfect.hidden);
  Workers workers(hands_.threads);
  workers.run([&] { pool_.add(proposalsOf(perfect.chosen)); });
  given_ = pool_.numbersOf(proposalsOf(perfect.chosen));
  chosen_ = given_;
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
  if (given_.empty() && isEnoughAsItIs()) return {};
  if (std::vector<Problem> problems = look({}, first); !problems.empty()) return problems;
  Workers workers(hands_.threads);
  workers.run([&] {
    propose(demandsFrom(0), gaps < few_gaps);
    propose(hopeless(), true);
    lookCloselyAt(hopeless());
    can_be_clean_ = 1 - static_cast<double>(buildsWithHopeless(0)) / std::max(1, tried_);
    if (can_be_clean_ < hardly_any_share) return;
    cover(coarse[0].least);
    proposeCentred();
    cover(coarse[0].least);
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
  std::vector<std::uint32_t> best = chosen_;
  for (int in_vain = 0; done < rounds && !stop(); ++done) {
    if (progress_) progress_(done / rounds);
    looser_ = looser_ == 1 ? looser : 1;
    const std::vector<std::uint32_t> looked_at = chosen_;
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
    chosen_ = best;
    Workers workers(hands_.threads);
    workers.run([&] { addBest(0, 0); });
  }
  chosen_ = std::move(best);
  return prune();
}

// Without those that hardly any wall needs, where no fewer walls are clean then.
std::vector<Problem> HandsSearch::prune() {
  constexpr double hardly_any = 0.01;
  const std::vector<std::uint32_t> best = chosen_;
  Workers workers(hands_.threads);
  workers.run([&] { dropForFewWalls(hardly_any * builds_); });
  if (stop() || chosen_.size() == best.size()) return {};
  if (std::vector<Problem> problems = lookAgain(); !problems.empty()) return problems;
  if (clean_ + builds_more < best_clean_) chosen_ = best;
  return {};
}

// Without those that few walls need, as many as may be left out: first by a new choice among all, then of
// what there is. Each try in vain tells more of what they are needed for.
std::vector<Problem> HandsSearch::reduce() {
  const double may_fail = builds_ * (1 - static_cast<double>(asked_.clean) / asked_.of);
  constexpr int most_tries = 12;
  constexpr double least_share = 0.01;
  std::vector<std::uint32_t> enough = chosen_;
  double share = 0.5;
  for (int k = 0; k < most_tries && share > least_share && !stop(); ++k) {
    chosen_ = enough;
    Workers workers(hands_.threads);
    workers.run([&] {
      if (k == 0) {
        proposeCentred();
        cover(0);
      }
      dropForFewWalls(share * may_fail);
    });
    if (k > 0 && chosen_.size() >= enough.size()) break;
    if (chosen_.size() >= enough.size()) continue;
    if (std::vector<Problem> problems = lookAgain(); !problems.empty()) return problems;
    if (isEnough())
      enough = chosen_;
    else if (k > 0)
      share /= 2;
  }
  chosen_ = std::move(enough);
  return {};
}

// At many builds, for how many come out clean.
std::vector<Problem> HandsSearch::lookAgain() {
  const std::uint32_t from = demands_.size();
  if (std::vector<Problem> problems = look(chosen(), builds_to_be_sure); !problems.empty()) return problems;
  Workers workers(hands_.threads);
  workers.run([&] {
    propose(demandsFrom(from), true);
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
  chosen_ = given_;
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
  const std::uint32_t from = demands_.size();
  if (std::vector<Problem> problems = look(chosen(), round.builds); !problems.empty()) return problems;
  if (isEnough() && looser_ == 1) return {};
  if (!worth_only_ && gaps_each_ > too_many_gaps) return {};
  Workers workers(hands_.threads);
  workers.run([&] {
    propose(demandsFrom(from), false);
    if (!worth_only_) {
      if (round.least > 0) return cover(round.least);
      propose(bare(), true);
      findLost(from);
    }
    worth_only_ ? addBest(round.least, from) : hideWhatIsBare();
    countWanted();
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
  addBest(0, 0);
  if (anew && !bare().empty()) exchangeForBare();
  if (bare().empty()) return;
  lookCloselyAt(bare());
  addBest(0, 0);
  if (bare().empty()) return;
  anew ? exchangeForBare() : swapForBare();
  addBest(0, 0);
}

// A filler that is tried comes out otherwise at each place. Of many places one would be found that is lucky
// in all builds looked at, so each has to hide what shows however often the wall's fillers are hung.
void HandsSearch::addOf(std::span<const GapOfHands> of_shot, const HandsTraining::Looked& looked) {
  const auto [build, shot] = std::pair(of_shot.front().build, of_shot.front().shot);
  const auto number = builds_ + static_cast<std::uint32_t>(build);
  for (const std::span<const HandBuild> hung : looked.hung) {
    const std::uint32_t view = demands_.addView(hands_.shots[shot].camera.position.mm, &hung[build], number);
    for (const GapOfHands& gap : of_shot)
      demands_.add(view, gap.places_mm, 1.0F / static_cast<float>(gap.places_mm.size() * looked.hung.size()));
  }
}

void HandsSearch::findLost(std::uint32_t from) {
  lookCloselyAt(hopeless());
  lost_ = buildsWithHopeless(from);
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

// One place of each block of the grid.
void HandsSearch::addPlanned(const MustHide& shown) {
  const PlaceGrid& grid = task_.sites.grid();
  for (const Eye& eye : shown.eyes) {
    std::vector<glm::dvec2> places = eye.others;
    std::set<std::pair<int, int>> blocks;
    eye.places.forEach([&](int column, int row) {
      if (blocks.emplace(column / planned_apart, row / planned_apart).second)
        places.push_back({grid.x.at(column), grid.y.at(row)});
    });
    if (!places.empty()) demands_.add(demands_.addView(eye.at, nullptr, 0), places, planned_weight);
  }
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

std::vector<Candidate> HandsSearch::chosen() const {
  std::vector<Candidate> all;
  for (const std::uint32_t k : chosen_) all.push_back(pool_[k]);
  return all;
}

std::vector<std::uint32_t> HandsSearch::demandsFrom(std::uint32_t from) const {
  std::vector<std::uint32_t> some(demands_.size() - from);
  std::iota(some.begin(), some.end(), from);
  return some;
}

void HandsSearch::hideToo(const MustHide& shown) {
  Workers workers(hands_.threads);
  workers.run([&] {
    const std::uint32_t from = demands_.size();
    addPlanned(shown);
    propose(demandsFrom(from), true);
    addBest(0, 0);
  });
}

// "12 more of bud and 3 more of sage"; empty where the stock isn't in the way.
std::string HandsSearch::moreThanStock() const {
  std::string more;
  for (std::size_t kind = 0; kind < wanted_.size(); ++kind) {
    const Bloom& bloom = task_.plan.blooms[static_cast<std::size_t>(task_.maker.kinds()[kind].kind)];
    if (wanted_[kind] > 0 && bloom.stock)
      more += fmt::format("{}{} more of {}", more.empty() ? "" : " and ", wanted_[kind], bloom.name);
  }
  return more;
}

// Empty where as many as asked for might come out clean.
std::string HandsSearch::whyLost() const {
  if (canBeEnough(lost_of_many_)) return "";
  const std::string where = worstHopeless();
  if (where.empty()) return "";
  return fmt::format("in {} of {} builds there is a gap that no filler hides, most often {}", lost_of_many_,
                     builds_to_be_sure, where);
}

std::string HandsSearch::whyOnlyWorthIt(const std::string& more) const {
  std::string best = "hardly any is";
  if (best_clean_ >= hardly_any_share * builds_to_be_sure)
    best = fmt::format("no more than {} in {} were found to be, by {} fillers", best_clean_,
                       builds_to_be_sure, fillers_of_best_);
  else
    best += more.empty() ? ", however many fillers hang" : " without " + more;
  return fmt::format(
      "with such hands {}: so only those were added that hide something in most walls, and spares are what "
      "helps on the day",
      best);
}

std::optional<std::string> HandsSearch::whyNotClean(const HandsReport& report) const {
  if (report.builds == 0 || report.clean * asked_.of >= report.builds * asked_.clean) return std::nullopt;
  const std::string asked = fmt::format("{} walls in {} were to be clean; ", asked_.clean, asked_.of);
  const std::string more = moreThanStock();
  if (worth_only_) return asked + whyOnlyWorthIt(more);
  if (const std::string lost = whyLost(); !lost.empty()) return asked + lost;
  if (more.empty())
    return asked + "they aren't, because no more fillers were found that fit where such hands leave gaps";
  return asked +
         fmt::format(
             "they aren't, because the stock is used up: {} would hide more of what such hands leave bare",
             more);
}

}  // namespace petalproof
