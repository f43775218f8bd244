#include "engine/fill/proved_cover.h"

#include "engine/fill/why_left.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

namespace petalproof::fill {
namespace {

constexpr int most_proofs = 8;
constexpr int most_improved = 2;        // of the rounds after a check; later ones only add what still lacks
constexpr int most_quick_looks = 6;     // before each proof
constexpr int most_rough_looks = 4;     // likewise
constexpr std::size_t few_fillers = 8;  // so few changed ones rarely lay bare what a look would find
constexpr std::size_t most_close_looks = 40;  // each takes a while

// How many fillers are in one of them only.
std::size_t changesBetween(const std::vector<candidates::Candidate>& one,
                           const std::vector<candidates::Candidate>& other) {
  const auto posesOf = [](const std::vector<candidates::Candidate>& fillers) {
    std::set<std::tuple<std::size_t, int, double, double>> poses;
    for (const candidates::Candidate& filler : fillers)
      poses.emplace(filler.kind, filler.turn_deg, filler.site.from_corner_mm.x, filler.site.from_corner_mm.y);
    return poses;
  };
  const auto before = posesOf(one);
  const auto after = posesOf(other);
  const auto stayed = static_cast<std::size_t>(
      std::count_if(after.begin(), after.end(), [&](const auto& pose) { return before.count(pose) != 0; }));
  return before.size() + after.size() - 2 * stayed;
}

}  // namespace

ProvedCover::ProvedCover(const Filling& filling, const candidates::SearchTask& task,
                         check::ShotChecker& checker, const Before& before, SayOfCheck say)
    : filling_(filling),
      task_(task),
      checker_(checker),
      before_(before),
      say_(std::move(say)),
      workers_(filling.options.threads),
      search_(task),
      all_(before.must_hide) {}

void ProvedCover::cover(Again again) {
  if (!filling_.maker.kinds().empty() && all_.pairs() > 0)
    workers_.run([&] { chosen_ = search_.cover(all_, again); });
  placed_ = fill::placed(filling_, chosen_);
}

// A proof takes long; most of what it would find is seen at a glance.
void ProvedCover::coverWhatIsSeen() {
  const QuickLook look(filling_, before_.shots, before_.bare);
  for (int k = 0; k < most_quick_looks && !stop(); ++k) {
    const std::int64_t known = all_.pairs();
    candidates::join(all_, look.see(chosen_));
    if (all_.pairs() == known) break;
    cover();
  }
}

std::vector<Problem> ProvedCover::check(picture::Lighting lighting) {
  Result<scene::Scene> made = scene();
  if (!made) return std::move(made.problems);
  const auto say = [this, lighting](double done, const std::string& doing) { say_(lighting, done, doing); };
  Result<CheckedPlan> proved =
      checkPlan(filling_, filledPlan(filling_.base, placed_), *made.value, {false, lighting, say}, checker_);
  if (!proved) return std::move(proved.problems);
  proof_ = std::move(*proved.value);
  return {};
}

// The gaps that the last check found, that the search can't hide, and that no close look was in vain for.
std::vector<ProvedCover::Lacking> ProvedCover::lacking() const {
  constexpr double block_mm = 8;
  const GivenUp given_up(search_.givenUp());
  std::vector<Lacking> lacking;
  for (const GapLeft& left : gapsLeft(proof_.check, filling_.options.hide)) {
    const glm::dvec2 at = placeIn(*left.gap, left.shot->camera);
    const LookedAt key{left.shot - proof_.check.shots.data(), static_cast<int>(std::floor(at.x / block_mm)),
                       static_cast<int>(std::floor(at.y / block_mm))};
    if (given_up.isNear(at) && looked_in_vain_.count(key) == 0)
      lacking.push_back({left.shot->camera.position.mm, at, key});
  }
  return lacking;
}

// True if a close look around what the search can't hide finds fillers that it has not.
bool ProvedCover::suggestForWhatIsLeft() {
  std::vector<candidates::Proposal> proposals;
  const std::vector<Lacking> gaps = lacking();
  for (std::size_t from = 0; from < gaps.size() && proposals.empty() && !stop(); from += most_close_looks) {
    std::vector<std::optional<candidates::Proposal>> found(std::min(most_close_looks, gaps.size() - from));
    workers_.run([&] {
      forEach(found.size(), [&](std::size_t k) {
        task_.goOn();
        found[k] = fillerThatFits(task_, gaps[from + k].eye, gaps[from + k].place, chosen_);
      });
    });
    for (std::size_t k = 0; k < found.size(); ++k)
      if (found[k])
        proposals.push_back(*found[k]);
      else
        looked_in_vain_.insert(gaps[from + k].key);
  }
  workers_.run([&] { search_.suggest(proposals); });
  return !proposals.empty();
}

// Takes up what the last check found. True if there is more to cover.
bool ProvedCover::learn() {
  if (proof_.must_hide.pairs() == 0 || stop()) return false;
  const bool is_new = foundMore(proof_.must_hide, GivenUp(search_.givenUp()), filling_.grid);
  if (is_new || suggestForWhatIsLeft())
    return coverWhatIsLeft(improved_++ < most_improved ? Again::improve : Again::add);
  // A last look at all that is left: among the fillers that there are now one may fit that didn't before.
  if (looked_in_vain_.empty()) return false;
  looked_in_vain_.clear();
  return suggestForWhatIsLeft() && coverWhatIsLeft(Again::add);
}

// False, and nothing is changed, where the cover found leaves as much of what the last check found.
bool ProvedCover::coverWhatIsLeft(Again again) {
  const std::int64_t known = all_.pairs();
  const auto checked = std::pair(chosen_, placed_);
  std::int64_t bare = std::ssize(search_.givenUp());  // beside what was checked
  candidates::join(all_, proof_.must_hide);
  bare += all_.pairs() - known;
  cover(again);
  if (suggestForWhatIsLeft()) return true;
  if (all_.pairs() != known && foundMore(proof_.must_hide, GivenUp(search_.givenUp()), filling_.grid))
    return true;
  if (std::ssize(search_.givenUp()) < bare) return true;
  std::tie(chosen_, placed_) = checked;  // another cover, which leaves as much
  return false;
}

void ProvedCover::fill() {
  cover();
  if (!placed_.empty()) coverWhatIsSeen();
}

// Takes up what the last check found, and what that lays bare. How many fillers change.
std::size_t ProvedCover::coverMore() {
  const auto looked_at = std::pair(chosen_, placed_);
  if (!learn()) return 0;
  fill();
  const std::size_t changes = changesBetween(looked_at.first, chosen_);
  if (changes == 0)
    std::tie(chosen_, placed_) = looked_at;  // the same, but for their order, by which colours go
  return changes;
}

// Most of what a proof would find shows in rough light too, in less than half of the time; on a large wall it
// takes several looks until nothing more comes up.
std::vector<Problem> ProvedCover::settleInRoughLight() {
  if (placed_.empty() || filling_.options.hide == Hide::all) return {};
  for (int look = 0; look < most_rough_looks && !stop(); ++look) {
    if (std::vector<Problem> problems = check(picture::Lighting::rough); !problems.empty()) return problems;
    if (coverMore() <= few_fillers) break;
  }
  return {};
}

std::vector<Problem> ProvedCover::find() {
  fill();
  std::size_t changes = few_fillers + 1;
  for (int round = 0; round < most_proofs && changes > 0; ++round) {
    if (changes > few_fillers)
      if (std::vector<Problem> problems = settleInRoughLight(); !problems.empty()) return problems;
    if (std::vector<Problem> problems = check(picture::Lighting::full); !problems.empty()) return problems;
    changes = round + 1 < most_proofs ? coverMore() : 0;
  }
  return {};
}

Result<bool> ProvedCover::proveThese(std::vector<candidates::Candidate> chosen) {
  chosen_ = std::move(chosen);
  placed_ = fill::placed(filling_, chosen_);
  if (filledPlan(filling_.base, placed_).plan == proof_.plan.plan) return Result<bool>::success(false);
  std::vector<Problem> problems = check(picture::Lighting::full);
  return problems.empty() ? Result<bool>::success(true) : Result<bool>::failure(std::move(problems));
}

}  // namespace petalproof::fill
