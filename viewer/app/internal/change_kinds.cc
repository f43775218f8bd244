#include "viewer/app/internal/change_kinds.h"

#include <fmt/format.h>

#include <algorithm>

namespace petalproof::app {
namespace {

bool isKind(const plan::Plan& plan, int kind) {
  return kind >= 0 && static_cast<std::size_t>(kind) < plan.blooms.size();
}

template <class Body>
void forEachPlacement(plan::Plan& plan, const Body& body) {
  for (plan::Layout& layout : plan.layouts)
    for (plan::Placement& placement : layout.blooms) body(placement);
  for (plan::Filler& filler : plan.fillers) body(filler.placement);
}

// For the name of the step: "size of bud" where only the size changes, else "bud".
std::string whatChanges(const plan::Bloom& before, const plan::Bloom& after) {
  plan::Bloom changed = before;
  changed.name = after.name;
  if (changed == after) return "name of " + after.name;
  changed = before;
  changed.diameter = after.diameter;
  if (changed == after) return "size of " + after.name;
  changed = before;
  changed.colours = after.colours;
  if (changed == after) return "colours of " + after.name;
  return after.name;
}

}  // namespace

EditOutcome change(plan::Plan& plan, const SetKind& edit) {
  if (!isKind(plan, edit.kind)) return refused("that kind of bloom isn't there any more");
  plan::Bloom& kind = plan.blooms[static_cast<std::size_t>(edit.kind)];
  const std::string old_name = kind.name;
  // Asked before the renaming: placements of two kinds of the same name could not be told apart again.
  if (edit.bloom.name != old_name && plan::findBloom(plan, edit.bloom.name))
    return refused(fmt::format("there is a bloom named \"{}\" already; names are unique", edit.bloom.name));
  EditOutcome outcome = made("change " + whatChanges(kind, edit.bloom));
  kind = edit.bloom;
  forEachPlacement(plan, [&](plan::Placement& placement) {
    if (placement.bloom == old_name) placement.bloom = edit.bloom.name;
  });
  return outcome;
}

EditOutcome change(plan::Plan& plan, const AddKind& edit) {
  plan.blooms.push_back(edit.bloom);
  return made("add the kind " + edit.bloom.name);
}

EditOutcome change(plan::Plan& plan, const DeleteKind& edit) {
  if (!isKind(plan, edit.kind)) return refused("that kind of bloom isn't there any more");
  const std::string name = plan.blooms[static_cast<std::size_t>(edit.kind)].name;
  int used = 0;
  forEachPlacement(plan, [&](const plan::Placement& placement) { used += placement.bloom == name ? 1 : 0; });
  if (used > 0)
    return refused(fmt::format("{} is used in {} {}; delete those, or exchange them for another kind", name,
                               used, used == 1 ? "place" : "places"));
  plan.blooms.erase(plan.blooms.begin() + edit.kind);
  return made("delete the kind " + name);
}

}  // namespace petalproof::app
