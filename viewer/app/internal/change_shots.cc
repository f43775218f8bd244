#include "viewer/app/internal/change_shots.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::app {
namespace {

// Before a shot is edited: a plan without shots of its own takes over the default shots it is checked with.
std::vector<plan::Shot>& ownShots(plan::Plan& plan) {
  plan.shots = shotsOf(plan);
  return plan.shots;
}

bool isShot(const plan::Plan& plan, int shot) {
  return shot >= 0 && static_cast<std::size_t>(shot) < plan.shots.size();
}

// "couple 2": the first name that no shot has.
std::string freeShotName(const plan::Plan& plan, const std::string& wanted) {
  std::string name = wanted;
  const auto taken = [&] {
    return std::any_of(plan.shots.begin(), plan.shots.end(),
                       [&](const plan::Shot& shot) { return shot.name == name; });
  };
  for (int k = 2; taken(); ++k) name = fmt::format("{} {}", wanted, k);
  return name;
}

constexpr const char* shot_gone = "that shot isn't there any more";

}  // namespace

EditOutcome change(plan::Plan& plan, const AddShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  plan::Shot shot = edit.shot;
  shot.name = freeShotName(plan, shot.name);
  shots.push_back(shot);
  return made("add the shot " + shot.name);
}

EditOutcome change(plan::Plan& plan, const CopyShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  if (!isShot(plan, edit.shot)) return refused(shot_gone);
  plan::Shot copy = shots[static_cast<std::size_t>(edit.shot)];
  EditOutcome outcome = made("copy the shot " + copy.name);
  copy.name = freeShotName(plan, copy.name);
  if (!copy.label.empty()) copy.label += ", copy";
  shots.insert(shots.begin() + edit.shot + 1, std::move(copy));
  return outcome;
}

EditOutcome change(plan::Plan& plan, const DeleteShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  if (!isShot(plan, edit.shot)) return refused(shot_gone);
  if (shots.size() == 1) return refused("a plan keeps at least one shot");
  EditOutcome outcome = made("delete the shot " + shots[static_cast<std::size_t>(edit.shot)].name);
  shots.erase(shots.begin() + edit.shot);
  return outcome;
}

EditOutcome change(plan::Plan& plan, const SetShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  if (!isShot(plan, edit.shot)) return refused(shot_gone);
  shots[static_cast<std::size_t>(edit.shot)] = edit.to;
  return made(edit.detail.empty() ? "change the shot " + edit.to.name
                                  : fmt::format("change {} of {}", edit.detail, edit.to.name));
}

EditOutcome change(plan::Plan& plan, const SetTitle& edit) {
  plan.title = edit.title;
  return made("change the title");
}

EditOutcome change(plan::Plan& plan, const SetReading& edit) {
  plan.reading = edit.thresholds;
  return made("change the limits from which a hole shows");
}

EditOutcome change(plan::Plan& plan, const SetCopies& edit) {
  plan.seed = edit.seed;
  plan.variation = edit.variation;
  return made("change how copies differ");
}

EditOutcome change(plan::Plan& plan, const SetHands& edit) {
  plan.hands = edit.hands;
  return made("change how sure the hands are");
}

}  // namespace petalproof::app
