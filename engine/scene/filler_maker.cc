#include "engine/scene/filler_maker.h"

#include "engine/scene/internal/copies.h"
#include "engine/scene/internal/kinds.h"
#include "engine/scene/shapes.h"

#include <utility>
#include <variant>

namespace petalproof::scene {
namespace {

// The plan with an additional filler of each filler kind, so that prepareKinds reads the kind's mesh file.
plan::LoadedPlan withEachFiller(const plan::LoadedPlan& loaded) {
  plan::LoadedPlan extended = loaded;
  for (const plan::Bloom& bloom : loaded.plan.blooms) {
    plan::Filler filler;
    filler.placement.bloom = bloom.name;
    if (bloom.filler) extended.plan.fillers.push_back(std::move(filler));
  }
  return extended;
}

FillerKind fillerKindOf(const Kind& kind, const plan::Plan& plan, std::size_t index) {
  FillerKind made;
  made.kind = static_cast<int>(index);
  made.diameter_mm = kind.diameter_mm;
  made.depth_mm = kind.depth_mm;
  made.plate_mm = kind.plate_mm;
  made.greenery = !kind.from_file && factsOf(kind.spec.shape).has_width;
  made.width_mm = made.greenery ? kind.spec.width_mm : kind.diameter_mm;
  const std::uint64_t variants = kind.from_file || plan.variation <= 0 ? 1 : variants_per_kind;
  for (std::uint64_t variant = 0; variant < variants; ++variant)
    made.copies.push_back(meshOfVariant(kind, plan, variant));
  return made;
}

}  // namespace

Result<FillerMaker> FillerMaker::forPlan(const plan::LoadedPlan& loaded) {
  auto kinds = prepareKinds(withEachFiller(loaded), {});
  if (!kinds) return Result<FillerMaker>::failure(std::move(kinds.problems));
  FillerMaker maker;
  maker.seed_ = loaded.plan.seed;
  maker.variation_ = loaded.plan.variation;
  maker.wall_height_mm_ = toMillimetres(plan::wallOutline(loaded.plan.wall).height, loaded.plan);
  for (std::size_t k = 0; k < loaded.plan.blooms.size(); ++k)
    if (loaded.plan.blooms[k].filler) maker.kinds_.push_back(fillerKindOf((*kinds.value)[k], loaded.plan, k));
  return Result<FillerMaker>::success(std::move(maker));
}

double FillerMaker::sway_deg() const { return variation_ * turn_sway_deg; }

FillerMaker::Hung FillerMaker::hang(std::size_t number, glm::dvec2 from_corner_mm, double turn_deg) const {
  const FillerKind& kind = kinds_[number];
  const std::uint64_t hash = fillerHash(seed_, from_corner_mm);
  return {&kind.copies[hash % kind.copies.size()],
          scene::wallFromMesh({from_corner_mm.x, wall_height_mm_ - from_corner_mm.y}, 0,
                              turn_deg + swayOf(variation_, hash))};
}

}  // namespace petalproof::scene
