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
constexpr int most_improved = 2;              // covers after checks; later covers only add fillers
constexpr int most_quick_looks = 6;           // before each proof
constexpr int most_rough_looks = 4;           // likewise
constexpr std::size_t few_fillers = 8;        // after so few changes another rough look rarely finds anything
constexpr std::size_t most_close_looks = 40;  // side by side; each takes a while

// How many fillers are in only one of the two lists.
std::size_t changesBetween(const std::vector<candidates::Candidate>& old_fillers,
                           const std::vector<candidates::Candidate>& new_fillers) {
  const auto posesOf = [](const std::vector<candidates::Candidate>& fillers) {
    std::set<std::tuple<std::size_t, int, double, double>> poses;
    for (const candidates::Candidate& filler : fillers)
      poses.emplace(filler.kind, filler.turn_deg, filler.site.from_corner_mm.x, filler.site.from_corner_mm.y);
    return poses;
  };
  const auto before = posesOf(old_fillers);
  const auto after = posesOf(new_fillers);
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
      search_(task),
      must_hide_(before.must_hide) {}

void ProvedCover::cover(Again again) {
  if (!filling_.maker.kinds().empty() && must_hide_.pairs() > 0) chosen_ = search_.cover(must_hide_, again);
  placed_ = fill::placed(filling_, chosen_);
}

// Covers what quick looks find: most of what a proof, which takes long, would find.
void ProvedCover::coverWhatIsSeen() {
  const QuickLook look(filling_, before_.shots, before_.bare);
  for (int k = 0; k < most_quick_looks; ++k) {
    const std::int64_t known = must_hide_.pairs();
    candidates::join(must_hide_, look.see(chosen_));
    if (must_hide_.pairs() == known) break;
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

// The gaps of the last check that the search gave up and that no close look was in vain for.
std::vector<ProvedCover::BareGap> ProvedCover::gapsToLookAt() const {
  constexpr double block_mm = 8;
  const GivenUp given_up(search_.givenUp());
  std::vector<BareGap> found;
  for (const GapLeft& left : gapsLeft(proof_.check, filling_.options.hide)) {
    const glm::dvec2 at = placeIn(*left.gap, left.shot->camera);
    const LookedAt key{left.shot - proof_.check.shots.data(), static_cast<int>(std::floor(at.x / block_mm)),
                       static_cast<int>(std::floor(at.y / block_mm))};
    if (given_up.isNear(at) && looked_in_vain_.count(key) == 0)
      found.push_back({left.shot->camera.position.mm, at, key});
  }
  return found;
}

// Looks closely around gaps that the search gave up, and suggests the fillers found to it. True if there were
// any.
bool ProvedCover::suggestForWhatIsLeft() {
  std::vector<candidates::Proposal> proposals;
  const std::vector<BareGap> gaps = gapsToLookAt();
  for (std::size_t from = 0; from < gaps.size() && proposals.empty(); from += most_close_looks) {
    std::vector<std::optional<candidates::Proposal>> found(std::min(most_close_looks, gaps.size() - from));
    task_.workers.forEach(found.size(), [&](std::size_t k) {
      throwIfStopAsked(task_.stop);
      found[k] = fillerThatFits(task_, gaps[from + k].eye, gaps[from + k].place, chosen_);
    });
    for (std::size_t k = 0; k < found.size(); ++k)
      if (found[k])
        proposals.push_back(*found[k]);
      else
        looked_in_vain_.insert(gaps[from + k].key);
  }
  search_.suggest(proposals);
  return !proposals.empty();
}

// Covers what the last check found. True if the cover changed for it.
bool ProvedCover::learn() {
  if (proof_.must_hide.pairs() == 0) return false;
  const bool is_new = foundMore(proof_.must_hide, GivenUp(search_.givenUp()), filling_.grid);
  if (is_new || suggestForWhatIsLeft())
    return coverWhatIsLeft(improved_++ < most_improved ? Again::improve : Again::add);
  // A last look at all gaps that are left: a filler may fit beside the present fillers that didn't before.
  if (looked_in_vain_.empty()) return false;
  looked_in_vain_.clear();
  return suggestForWhatIsLeft() && coverWhatIsLeft(Again::add);
}

// Covers the places of the last check. False, and the old cover stays, where the new cover leaves as many
// bare.
bool ProvedCover::coverWhatIsLeft(Again again) {
  const std::int64_t known = must_hide_.pairs();
  const auto checked = std::pair(chosen_, placed_);
  std::int64_t bare = std::ssize(search_.givenUp());
  candidates::join(must_hide_, proof_.must_hide);
  bare += must_hide_.pairs() - known;
  cover(again);
  if (suggestForWhatIsLeft()) return true;
  if (must_hide_.pairs() != known && foundMore(proof_.must_hide, GivenUp(search_.givenUp()), filling_.grid))
    return true;
  if (std::ssize(search_.givenUp()) < bare) return true;
  std::tie(chosen_, placed_) = checked;
  return false;
}

void ProvedCover::fill() {
  cover();
  if (!placed_.empty()) coverWhatIsSeen();
}

// Covers what the last check found, then what quick looks find. Returns how many fillers change.
std::size_t ProvedCover::coverMore() {
  const auto looked_at = std::pair(chosen_, placed_);
  if (!learn()) return 0;
  fill();
  const std::size_t changes = changesBetween(looked_at.first, chosen_);
  if (changes == 0)
    std::tie(chosen_, placed_) = looked_at;  // the same fillers in their old order, on which colours depend
  return changes;
}

// Checks in rough light and covers what that finds, until little changes. A rough check takes less than half
// of a proof's time and finds most of what that would.
std::vector<Problem> ProvedCover::settleInRoughLight() {
  if (placed_.empty() || filling_.options.hide == Hide::all) return {};
  for (int look = 0; look < most_rough_looks; ++look) {
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
