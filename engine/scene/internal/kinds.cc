#include "engine/scene/internal/kinds.h"

#include "engine/base/file.h"
#include "engine/plan/plan_defaults.h"
#include "engine/scene/internal/grouped.h"
#include "engine/scene/internal/read_obj.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

namespace petalproof::scene {
namespace {

// Of the diameter, for an OBJ without a depth in the plan; common practice, no source.
constexpr double usual_mesh_depth_share = 0.3;

Place placeOf(const plan::LoadedPlan& loaded, std::size_t kind) {
  const auto& places = loaded.places.blooms;
  return kind < places.size() ? places[kind] : Place{loaded.file};
}

Kind sizesOf(const plan::Bloom& bloom, const plan::Plan& plan) {
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  Kind kind;
  kind.from_file = shape == nullptr;
  kind.diameter_mm = toMillimetres(bloom.diameter, plan);
  kind.plate_mm =
      bloom.plate ? toMillimetres(*bloom.plate, plan) : plan::usual_plate_share * kind.diameter_mm;
  const double depth_share = shape ? factsOf(*shape).depth_share : usual_mesh_depth_share;
  kind.depth_mm = bloom.depth ? toMillimetres(*bloom.depth, plan) : depth_share * kind.diameter_mm;
  if (!shape) return kind;
  const double width_mm =
      bloom.width ? toMillimetres(*bloom.width, plan) : factsOf(*shape).width_share * kind.diameter_mm;
  kind.spec = {.shape = *shape,
               .diameter_mm = kind.diameter_mm,
               .width_mm = width_mm,
               .depth_mm = kind.depth_mm,
               .petals = bloom.petals.value_or(0),
               .layers = bloom.layers.value_or(0)};
  return kind;
}

// Reads each OBJ file once, even if several kinds name it.
class ObjFiles {
 public:
  explicit ObjFiles(const plan::LoadedPlan& loaded) : directory_(loaded.directory) {}

  const Result<Mesh>& read(const std::string& path, const Place& named_at) {
    const auto known = files_.find(path);
    if (known != files_.end()) return known->second;
    return files_.emplace(path, load(path, named_at)).first->second;
  }
  void forget(const std::string& path) { files_.erase(path); }

 private:
  Result<Mesh> load(const std::string& path, const Place& named_at) const {
    const ObjLimits limits;
    auto text = readFile(directory_ / path, limits.bytes, path);
    if (text) return readObj(*text.value, path, limits);
    // A file that can't be read is a problem of the plan's line that names it.
    std::vector<Problem> problems;
    for (const Problem& problem : text.problems)
      problems.push_back({named_at, fmt::format("the mesh {} {}", path, problem.message)});
    return Result<Mesh>::failure(std::move(problems));
  }

  std::filesystem::path directory_;
  std::map<std::string, Result<Mesh>> files_;
};

void addProblems(std::vector<Problem>& to, const std::vector<Problem>& from) {
  for (const Problem& problem : from)
    if (std::find(to.begin(), to.end(), problem) == to.end()) to.push_back(problem);
}

}  // namespace

KindIndex kindIndexOf(const plan::Plan& plan) {
  KindIndex index;
  for (std::size_t k = 0; k < plan.blooms.size(); ++k)
    index.emplace(plan.blooms[k].name, static_cast<int>(k));
  return index;
}

std::vector<std::int64_t> copiesOnWall(const plan::Plan& plan, const KindIndex& kinds) {
  std::unordered_map<std::string, std::int64_t> cells;
  for (const plan::Cell& cell : plan.wall.grid.cells())
    if (cell.hasPanel()) ++cells[cell.layout];
  std::vector<std::int64_t> copies(plan.blooms.size(), 0);
  const auto count = [&](const std::string& bloom, std::int64_t times) {
    const auto kind = kinds.find(bloom);
    if (kind != kinds.end()) copies[static_cast<std::size_t>(kind->second)] += times;
  };
  for (const plan::Layout& layout : plan.layouts) {
    const auto times = cells.find(layout.name);
    if (times == cells.end()) continue;
    for (const plan::Placement& placement : layout.blooms) count(placement.bloom, times->second);
  }
  for (const plan::Filler& filler : plan.fillers) count(filler.placement.bloom, 1);
  return copies;
}

Result<std::vector<Kind>> prepareKinds(const plan::LoadedPlan& loaded, const SceneLimits& limits) {
  const plan::Plan& plan = loaded.plan;
  const std::vector<std::int64_t> copies = copiesOnWall(plan, kindIndexOf(plan));
  std::vector<Kind> kinds;
  std::vector<Problem> problems;
  ObjFiles files(loaded);
  std::int64_t total = 0;
  for (std::size_t k = 0; k < plan.blooms.size(); ++k) {
    Kind kind = sizesOf(plan.blooms[k], plan);
    kind.copies = copies[k];
    const auto* file = std::get_if<plan::MeshFile>(&plan.blooms[k].form);
    const Result<Mesh>* read = file ? &files.read(file->path, placeOf(loaded, k)) : nullptr;
    if (read && !*read) {
      addProblems(problems, read->problems);
      continue;
    }
    kind.triangles = static_cast<std::int64_t>(read ? read->value->triangles.size()
                                                    : makeShape(kind.spec).triangles.size());
    total += kind.triangles * kind.copies;
    if (total > limits.triangles) break;
    if (read && kind.copies > 0) kind.own = fittedTo(*read->value, kind.diameter_mm, kind.depth_mm);
    if (read && kind.copies == 0) files.forget(file->path);
    kinds.push_back(std::move(kind));
  }
  if (total > limits.triangles)
    problems.push_back({loaded.places.wall.file.empty() ? Place{loaded.file} : loaded.places.wall,
                        fmt::format("the wall's blooms have more than {} triangles, the most that can be "
                                    "checked: hang fewer, or make the mesh files simpler",
                                    grouped(static_cast<std::uint64_t>(limits.triangles)))});
  if (!problems.empty()) return Result<std::vector<Kind>>::failure(std::move(problems));
  return Result<std::vector<Kind>>::success(std::move(kinds));
}

}  // namespace petalproof::scene
