#include "viewer/app/shot_edits.h"

#include "engine/plan/default_shots.h"
#include "viewer/app/internal/edits.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::app {
namespace {

// A plan without shots takes over those it is checked with: from now on they are its own.
std::vector<plan::Shot>& ownShots(plan::Plan& plan) {
  plan.shots = shotsOf(plan);
  return plan.shots;
}

bool isShot(const plan::Plan& plan, int shot) {
  return shot >= 0 && static_cast<std::size_t>(shot) < plan.shots.size();
}

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

std::vector<plan::Shot> shotsOf(const plan::Plan& plan) {
  return plan.shots.empty() ? plan::defaultShots(plan) : plan.shots;
}

Made change(plan::Plan& plan, const AddShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  plan::Shot shot = edit.shot;
  shot.name = freeShotName(plan, shot.name);
  shots.push_back(shot);
  return made("add the shot " + shot.name);
}

Made change(plan::Plan& plan, const CopyShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  if (!isShot(plan, edit.shot)) return refused(shot_gone);
  plan::Shot copy = shots[static_cast<std::size_t>(edit.shot)];
  Made done = made("copy the shot " + copy.name);
  copy.name = freeShotName(plan, copy.name);
  if (!copy.label.empty()) copy.label += ", copy";
  shots.insert(shots.begin() + edit.shot + 1, std::move(copy));
  return done;
}

Made change(plan::Plan& plan, const DeleteShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  if (!isShot(plan, edit.shot)) return refused(shot_gone);
  if (shots.size() == 1) return refused("a plan keeps at least one shot");
  Made done = made("delete the shot " + shots[static_cast<std::size_t>(edit.shot)].name);
  shots.erase(shots.begin() + edit.shot);
  return done;
}

Made change(plan::Plan& plan, const SetShot& edit) {
  std::vector<plan::Shot>& shots = ownShots(plan);
  if (!isShot(plan, edit.shot)) return refused(shot_gone);
  shots[static_cast<std::size_t>(edit.shot)] = edit.to;
  return made(edit.what.empty() ? "change the shot " + edit.to.name
                                : fmt::format("change {} of {}", edit.what, edit.to.name));
}

Made change(plan::Plan& plan, const SetTitle& edit) {
  plan.title = edit.title;
  return made("change the title");
}

Made change(plan::Plan& plan, const SetReading& edit) {
  plan.reading = edit.thresholds;
  return made("change from when a gap shows");
}

Made change(plan::Plan& plan, const SetCopies& edit) {
  plan.seed = edit.seed;
  plan.variation = edit.variation;
  return made("change how copies differ");
}

Made change(plan::Plan& plan, const SetHands& edit) {
  plan.hands = edit.hands;
  return made("change how sure the hands are");
}

}  // namespace petalproof::app
