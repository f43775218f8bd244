#include "engine/scene/scene_keeper.h"

#include "engine/scene/internal/copies.h"
#include "engine/scene/internal/hang.h"
#include "engine/scene/internal/kinds.h"

#include <filesystem>
#include <map>
#include <optional>
#include <utility>
#include <variant>
#include <vector>

namespace petalproof::scene {
namespace {

namespace fs = std::filesystem;

// Everything that the meshes depend on.
struct MeshFacts {
  std::vector<plan::Bloom> blooms;
  Units units = Units::inch;
  std::uint64_t seed = 0;
  double variation = 0;
  fs::path directory;
  std::vector<fs::file_time_type> written;  // of the OBJ files, in the order of their kinds
  friend bool operator==(const MeshFacts&, const MeshFacts&) = default;
};

MeshFacts meshFactsOf(const plan::LoadedPlan& loaded) {
  const plan::Plan& plan = loaded.plan;
  MeshFacts facts{plan.blooms, plan.units, plan.seed, plan.variation, loaded.directory, {}};
  for (const plan::Bloom& bloom : plan.blooms) {
    std::error_code error;
    if (const auto* file = std::get_if<plan::MeshFile>(&bloom.form))
      facts.written.push_back(fs::last_write_time(loaded.directory / file->path, error));
  }
  return facts;
}

}  // namespace

struct SceneKeeper::Kept {
  std::optional<MeshFacts> facts;
  std::vector<std::int64_t> copies;
  std::vector<Kind> kinds;
  std::map<std::pair<int, std::uint64_t>, Mesh> meshes;
};

SceneKeeper::SceneKeeper() : kept_(std::make_unique<Kept>()) {}
SceneKeeper::~SceneKeeper() = default;

Result<Scene> SceneKeeper::build(const plan::LoadedPlan& loaded, const SceneLimits& limits) {
  MeshFacts facts = meshFactsOf(loaded);
  std::vector<std::int64_t> copies = copiesOnWall(loaded.plan, kindIndexOf(loaded.plan));
  if (kept_->facts != facts) kept_->meshes.clear();
  if (kept_->facts != facts || kept_->copies != copies) {
    kept_->facts.reset();
    auto kinds = prepareKinds(loaded, limits);
    if (!kinds) return Result<Scene>::failure(std::move(kinds.problems));
    kept_->kinds = std::move(*kinds.value);
    kept_->copies = std::move(copies);
    kept_->facts = std::move(facts);
  }
  return Result<Scene>::success(hungScene(loaded.plan, kept_->kinds, [&](int kind, std::uint64_t variant) {
    const auto known = kept_->meshes.find({kind, variant});
    if (known != kept_->meshes.end()) return known->second;
    const Kind& made = kept_->kinds[static_cast<std::size_t>(kind)];
    return kept_->meshes.emplace(std::pair{kind, variant}, meshOfVariant(made, loaded.plan, variant))
        .first->second;
  }));
}

}  // namespace petalproof::scene
