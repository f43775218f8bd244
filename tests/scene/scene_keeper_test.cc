// A scene kept over many changes is the scene that is built anew.

#include "engine/scene/scene_keeper.h"

#include "engine/base/file.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
namespace fs = std::filesystem;

namespace {

LoadedPlan demo() {
  auto loaded = loadPlan(fs::path(PETALPROOF_SOURCE_DIR) / "assets/plans/demo.toml");
  REQUIRE(loaded);
  return *loaded.value;
}

bool same(const Mesh& a, const Mesh& b) {
  return a.vertices == b.vertices && a.triangles == b.triangles && a.tint == b.tint;
}

bool same(const BloomInstance& a, const BloomInstance& b) {
  return a.mesh == b.mesh && a.wallFromMesh == b.wallFromMesh && a.colour == b.colour && a.kind == b.kind &&
         a.at_mm == b.at_mm && a.raised_mm == b.raised_mm && a.diameter_mm == b.diameter_mm &&
         a.plate_mm == b.plate_mm && a.panel_column == b.panel_column && a.panel_row == b.panel_row &&
         a.index == b.index;
}

template <class T>
bool allSame(const std::vector<T>& a, const std::vector<T>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const T& one, const T& other) { return same(one, other); });
}

void checkSame(const Scene& kept, const Scene& built) {
  CHECK(allSame(kept.meshes, built.meshes));
  CHECK(allSame(kept.blooms, built.blooms));
  CHECK(kept.panels.width_mm() == built.panels.width_mm());
  CHECK((kept.panels.has_panel == built.panels.has_panel));
  CHECK((kept.colours.board == built.colours.board));
}

std::string pyramid(double height) {
  return "v -1 -1 0\nv 1 -1 0\nv 0 1 0\nv 0 0 " + std::to_string(height) + "\nf 1 2 4\nf 2 3 4\nf 3 1 4\n";
}

}  // namespace

TEST_CASE("a kept scene equals the one built anew, whatever changed") {
  using Change = std::function<void(Plan&)>;
  const std::vector<Change> changes = {
      [](Plan&) {},
      [](Plan& plan) { plan.layouts[0].blooms[3].at.from_left.value += 1.25; },
      [](Plan& plan) { plan.layouts[1].blooms.pop_back(); },
      [](Plan& plan) { plan.blooms[1].diameter.value = 9; },
      [](Plan& plan) { plan.wall.grid.at(0, 0).upside_down = true; },
      [](Plan& plan) { plan.seed = 77; },
      [](Plan& plan) { plan.variation = 0; },
      [](Plan& plan) {
        plan.wall.board.colour = {9, 8, 7};
      },
      [](Plan& plan) {
        plan.fillers.push_back({{"bud", {{20}, {20}}, 0, {}, {}}, false});
      },
      [](Plan& plan) { plan.wall.seam.value = 0.25; }};
  SceneKeeper keeper;
  LoadedPlan loaded = demo();
  for (const Change& change : changes) {
    change(loaded.plan);
    const auto kept = keeper.build(loaded);
    const auto built = buildScene(loaded);
    REQUIRE(kept);
    REQUIRE(built);
    checkSame(*kept.value, *built.value);
  }
}

TEST_CASE("a kept scene notices a mesh file that changed or went") {
  const fs::path folder = fs::temp_directory_path() / "petalproof-scene-keeper-test";
  fs::remove_all(folder);
  fs::create_directories(folder);
  LoadedPlan loaded = demo();
  loaded.directory = folder;
  for (Bloom& bloom : loaded.plan.blooms)
    if (std::holds_alternative<MeshFile>(bloom.form)) {
      bloom.form = MeshFile{"own.obj"};
      bloom.depth.reset();
    }
  REQUIRE(!writeFile(folder / "own.obj", pyramid(1), Existing::replace));
  SceneKeeper keeper;
  REQUIRE(keeper.build(loaded));
  REQUIRE(!writeFile(folder / "own.obj", pyramid(1) + "f 1 3 2\n", Existing::replace));
  // Another time than the first, on file systems that count in seconds too.
  fs::last_write_time(folder / "own.obj", fs::file_time_type::clock::now() + std::chrono::seconds(5));
  const auto kept = keeper.build(loaded);
  const auto built = buildScene(loaded);
  REQUIRE(kept);
  checkSame(*kept.value, *built.value);
  fs::remove(folder / "own.obj");
  CHECK(!keeper.build(loaded));
  REQUIRE(!writeFile(folder / "own.obj", pyramid(2), Existing::replace));
  CHECK(keeper.build(loaded));
  fs::remove_all(folder);
}
