// How long it takes to know what each pixel shows: our rasteriser, the whole visibility buffer, Embree's
// rays and, where there is OpenGL without a display, its renderer (the faster of two recipes). One process,
// one scene, alternating calls; medians. Then how long a shot of the demo plan takes to be read.
//
//   petalproof_bench [pairs] [seed] [megapixels ...]
//   petalproof_bench reading [pairs] [shot]

#include "engine/visibility/visibility_buffer.h"
#include "tests/bench/gl_reference.h"
#include "tests/bench/pairs.h"
#include "tests/bench/reading_bench.h"
#include "tests/support/random_wall.h"
#include "tests/visibility/embree_caster.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <string>
#include <thread>

namespace petalproof::bench {
namespace {

using testing::EmbreeCaster;
using testing::EmbreeMode;

double disagreement(const IdBuffer& a, const IdBuffer& b) {
  std::size_t different = 0;
  for (std::size_t k = 0; k < a.ids.size(); ++k) different += a.ids[k] != b.ids[k] ? 1 : 0;
  return 100.0 * static_cast<double>(different) / static_cast<double>(a.ids.size());
}

// The faster of both recipes for what is loaded.
void useFaster(GlReference& gl, IdBuffer& out) {
  const auto least = [&](GlRecipe recipe) {
    gl.use(recipe);
    double best = milliseconds([&] { gl.draw(out); });
    for (int k = 0; k < 3; ++k) best = std::min(best, milliseconds([&] { gl.draw(out); }));
    return best;
  };
  const double integers = least(GlRecipe::integers);
  const double colours = least(GlRecipe::colours);
  gl.use(integers < colours ? GlRecipe::integers : GlRecipe::colours);
}

struct Bench {
  explicit Bench(int pair_count) : pairs(pair_count) {}

  int pairs;
  std::optional<GlReference> gl = GlReference::make();
  Rasteriser rasteriser;
  VisibilityRenderer renderer;
  IdBuffer ours;
  IdBuffer embree_ids;
  IdBuffer gl_ids;
  VisibilityBuffer buffer;

  void run(const char* name, const Scene& scene, double megapixels);
};

void Bench::run(const char* name, const Scene& scene, double megapixels) {
  const Camera camera = testing::cameraOnWall(scene.panels, megapixels, 20);
  const RasterView view = rasterViewOf(camera);
  const auto batches = batchesOf(scene);
  const auto draw = [&] { rasteriser.draw(batches, view, ours); };

  std::optional<EmbreeCaster> caster;
  const double build = milliseconds([&] { caster.emplace(batches, view, EmbreeMode::fast); });
  const Pairs embree = timed(pairs, draw, [&] { caster->cast(embree_ids); });
  caster.reset();
  const Pairs whole = timed(
      pairs, draw, [&] { renderer.render(scene, camera, {}, testing::wallFrameOf(scene.panels), buffer); });
  fmt::print("{:<6}{:>4} MP {:>9.1f} {:>12.1f} {:>12.1f} {:>12.1f} {:>9.2f} x", name, megapixels,
             median(embree.ours), median(whole.theirs), build, median(embree.theirs), embree.ratio());
  if (gl) {
    gl->load(batches, view);
    useFaster(*gl, gl_ids);
    const Pairs opengl = timed(pairs, draw, [&] { gl->draw(gl_ids); });
    fmt::print(" {:>12.1f} {:>9.2f} x", median(opengl.theirs), opengl.ratio());
  }
  fmt::print("   {:.4f} %", disagreement(ours, embree_ids));
  if (gl) fmt::print(" {:.4f} %", disagreement(ours, gl_ids));
  fmt::print("\n");
  std::fflush(stdout);
}

std::size_t triangleCount(const Scene& scene) {
  std::size_t count = 0;
  for (const BloomInstance& bloom : scene.blooms) count += scene.meshes[bloom.mesh].triangles.size();
  return count;
}

int benchAll(int pairs, std::uint64_t seed, const std::vector<double>& sizes) {
  Bench bench(pairs);
  fmt::print("{} threads, medians of {} alternating pairs, seed {}; OpenGL: {}\n",
             std::thread::hardware_concurrency(), pairs, seed, bench.gl ? bench.gl->renderer() : "none");
  const Scene small = testing::randomWall(testing::smallWall(seed));
  const Scene large = testing::randomWall(testing::largeWall(seed));
  for (const Scene* scene : {&small, &large}) {
    fmt::print("{} panels, {} blooms, {} triangles\n", scene->panels.columns * scene->panels.rows,
               scene->blooms.size(), triangleCount(*scene));
  }
  fmt::print("{:<13} {:>9} {:>12} {:>12} {:>12} {:>11} {:>12} {:>11}   ids that differ\n", "wall, picture",
             "ids, ms", "whole, ms", "build, ms", "Embree, ms", "/ ours", "OpenGL, ms", "/ ours");
  for (const double megapixels : sizes) bench.run("small", small, megapixels);
  for (const double megapixels : sizes) bench.run("large", large, megapixels);
  return 0;
}

}  // namespace
}  // namespace petalproof::bench

int main(int argc, char** argv) {
  const std::vector<std::string> words(argv + 1, argv + argc);
  const bool reading_only = !words.empty() && words[0] == "reading";
  const std::size_t first = reading_only ? 1 : 0;
  const int pairs = words.size() > first ? std::max(1, std::atoi(words[first].c_str())) : 5;
  if (reading_only) return petalproof::bench::timeReading(words.size() > 2 ? words[2] : "couple", pairs);
  const std::uint64_t seed = words.size() > 1 ? std::strtoull(words[1].c_str(), nullptr, 10) : 1;
  std::vector<double> sizes;
  for (std::size_t k = 2; k < words.size(); ++k) sizes.push_back(std::atof(words[k].c_str()));
  if (sizes.empty()) sizes = {2, 6, 24};
  const int failed = petalproof::bench::benchAll(pairs, seed, sizes);
  return failed != 0 ? failed : petalproof::bench::timeReading("couple", pairs);
}
