// Kinds of bloom.

#include "viewer/app/internal/edits.h"

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

// "size of bud" where only that changes, else "bud".
std::string whatChanges(const plan::Bloom& before, const plan::Bloom& after) {
  plan::Bloom other = before;
  other.name = after.name;
  if (other == after) return "name of " + after.name;
  other = before;
  other.diameter = after.diameter;
  if (other == after) return "size of " + after.name;
  other = before;
  other.colours = after.colours;
  if (other == after) return "colours of " + after.name;
  return after.name;
}

}  // namespace

Made change(plan::Plan& plan, const SetKind& edit) {
  if (!isKind(plan, edit.kind)) return refused("that kind of bloom isn't there any more");
  plan::Bloom& kind = plan.blooms[static_cast<std::size_t>(edit.kind)];
  const std::string old_name = kind.name;
  // Before anything takes the name: two kinds of one name would then be one.
  if (edit.bloom.name != old_name && plan::findBloom(plan, edit.bloom.name))
    return refused(fmt::format("there is a bloom named \"{}\" already; names are unique", edit.bloom.name));
  Made done = made("change " + whatChanges(kind, edit.bloom));
  kind = edit.bloom;
  forEachPlacement(plan, [&](plan::Placement& placement) {
    if (placement.bloom == old_name) placement.bloom = edit.bloom.name;
  });
  return done;
}

Made change(plan::Plan& plan, const AddKind& edit) {
  plan.blooms.push_back(edit.bloom);
  return made("add the kind " + edit.bloom.name);
}

Made change(plan::Plan& plan, const DeleteKind& edit) {
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
