#include "engine/scene/scene.h"

#include "engine/base/length_text.h"
#include "engine/base/units.h"
#include "engine/scene/internal/copies.h"
#include "engine/scene/internal/hang.h"
#include "engine/scene/internal/hidden_blooms.h"
#include "engine/scene/internal/kinds.h"

#include <fmt/format.h>

#include <optional>
#include <utility>

namespace petalproof::scene {
namespace {

std::optional<Problem> ceilingWarning(const plan::LoadedPlan& loaded, const PanelGrid& panels) {
  const plan::Plan& plan = loaded.plan;
  if (!plan.wall.room.ceiling) return std::nullopt;
  const double ceiling_mm = toMillimetres(*plan.wall.room.ceiling, plan);
  const double top_mm = panels.above_floor_mm + panels.height_mm();
  constexpr double rounding_mm = 1e-6;  // a wall that just fits may come out higher by rounding
  if (top_mm <= ceiling_mm + rounding_mm) return std::nullopt;
  Problem problem;
  problem.place = loaded.places.room_ceiling;
  problem.message = fmt::format("the wall's top is {} above the floor, higher than the room's ceiling at {}",
                                tapeText(top_mm, plan.units), tapeText(ceiling_mm, plan.units));
  return problem;
}

}  // namespace

Result<Scene> buildScene(const plan::LoadedPlan& loaded, const SceneLimits& limits) {
  auto kinds = prepareKinds(loaded, limits);
  if (!kinds) return Result<Scene>::failure(std::move(kinds.problems));
  Scene scene = hungScene(loaded.plan, *kinds.value, [&](int kind, std::uint64_t variant) {
    return meshOfVariant((*kinds.value)[static_cast<std::size_t>(kind)], loaded.plan, variant);
  });
  std::vector<Problem> warnings = hiddenBlooms(scene, loaded);
  if (auto too_high = ceilingWarning(loaded, scene.panels)) warnings.push_back(std::move(*too_high));
  return Result<Scene>::success(std::move(scene), std::move(warnings));
}

}  // namespace petalproof::scene
