// How long it takes to know what each pixel shows: our rasteriser, our coverage bits, the whole visibility
// buffer, Embree's rays and, where there is OpenGL without a display, its renderer (the faster of two
// recipes). One process, one scene, alternating calls; medians. Then how long a shot of the demo plan takes
// to be read.
//
//   petalproof_bench [pairs] [seed] [megapixels ...]
//   petalproof_bench reading [pairs] [shot]
//   petalproof_bench frames [card|processor] [frames]
//   petalproof_bench live [changes] [demo]
//   petalproof_bench fill [panels]

#include "engine/visibility/coverage_bits.h"
#include "engine/visibility/visibility_buffer.h"
#include "tests/bench/components_bench.h"
#include "tests/bench/fill_bench.h"
#include "tests/bench/frames_bench.h"
#include "tests/bench/gl_reference.h"
#include "tests/bench/live_bench.h"
#include "tests/bench/pairs.h"
#include "tests/bench/reading_bench.h"
#include "tests/support/random_wall.h"
#include "tests/visibility/embree_caster.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <string>
#include <thread>

namespace petalproof::bench {
namespace {

using testing::EmbreeCaster;
using testing::EmbreeMode;

double disagreement(const visibility::IdBuffer& a, const visibility::IdBuffer& b) {
  std::size_t different = 0;
  for (std::size_t k = 0; k < a.ids.size(); ++k) different += a.ids[k] != b.ids[k] ? 1 : 0;
  return 100.0 * static_cast<double>(different) / static_cast<double>(a.ids.size());
}

// The faster of both recipes for what is loaded.
void useFaster(GlReference& gl, visibility::IdBuffer& out) {
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

// The bits of pixels whose ids are not 0, otherwise than these.
double disagreement(const visibility::PixelMask& bits, const visibility::IdBuffer& ids) {
  std::size_t different = 0;
  for (int y = 0; y < ids.height_px; ++y)
    for (int x = 0; x < ids.width_px; ++x) different += bits.has(x, y) != (ids.id(x, y) != 0) ? 1 : 0;
  return 100.0 * static_cast<double>(different) / static_cast<double>(ids.ids.size());
}

// Our loops as compiled for every processor, and as this one runs them: to ids, and to coverage bits.
struct Ours {
  Ours(const Pool& pool, visibility::RasterKernel kernel, const char* kernel_name)
      : name(kernel_name), rasteriser(pool, kernel), coverage(pool, kernel) {}

  const char* name;
  visibility::Rasteriser rasteriser;
  visibility::IdBuffer ids;
  visibility::CoverageRasteriser coverage;
  visibility::PixelMask bits;
};

struct Bench {
  explicit Bench(int pair_count) : pairs(pair_count) {}

  int pairs;
  std::optional<GlReference> gl = GlReference::make();
  Pool pool;
  std::array<Ours, 2> ours = {Ours(pool, visibility::RasterKernel::baseline, "baseline"),
                              Ours(pool, visibility::RasterKernel::fastest, "fastest")};
  visibility::VisibilityRenderer renderer{pool};
  visibility::IdBuffer embree_ids;
  visibility::IdBuffer gl_ids;
  visibility::VisibilityBuffer buffer;

  void run(const char* name, const scene::Scene& scene, double megapixels);
  // One line: `draw` beside the references, and how much of what it drew into `drawn` differs from theirs.
  template <class Draw, class Drawn>
  void compare(const std::string& what, const EmbreeCaster& caster, const Draw& draw, const Drawn& drawn);
};

template <class Draw, class Drawn>
void Bench::compare(const std::string& what, const EmbreeCaster& caster, const Draw& draw,
                    const Drawn& drawn) {
  const Pairs embree = timed(pairs, draw, [&] { caster.cast(embree_ids); });
  fmt::print("{:<28} {:>8.1f} {:>11.1f} {:>8.2f} x", what, median(embree.ours), median(embree.theirs),
             embree.ratio());
  if (gl) {
    const Pairs opengl = timed(pairs, draw, [&] { gl->draw(gl_ids); });
    fmt::print(" {:>11.1f} {:>8.2f} x", median(opengl.theirs), opengl.ratio());
  }
  fmt::print("   {:.4f} %", disagreement(drawn, embree_ids));
  if (gl) fmt::print(" {:.4f} %", disagreement(drawn, gl_ids));
  fmt::print("\n");
  std::fflush(stdout);
}

void Bench::run(const char* name, const scene::Scene& scene, double megapixels) {
  const camera::Camera camera = testing::cameraOnWall(scene.panels, megapixels, 20);
  const visibility::RasterView view = visibility::rasterViewOf(camera);
  const auto batches = visibility::batchesOf(scene);
  std::optional<EmbreeCaster> caster;
  const double build = milliseconds([&] { caster.emplace(batches, view, EmbreeMode::fast); });
  if (gl) {
    gl->load(batches, view);
    useFaster(*gl, gl_ids);
  }
  for (Ours& one : ours)
    compare(
        fmt::format("{:<6}{:>3} MP ids, {}", name, megapixels, one.name), *caster,
        [&] { one.rasteriser.draw(batches, view, one.ids); }, one.ids);
  for (Ours& one : ours)
    compare(
        fmt::format("{:<6}{:>3} MP bits, {}", name, megapixels, one.name), *caster,
        [&] { one.coverage.draw(batches, view, one.bits); }, one.bits);
  caster.reset();
  const auto see = [&] { renderer.render(scene, camera, {}, testing::wallFrameOf(scene.panels), buffer); };
  see();
  const double seen = milliseconds(see);
  fmt::print("{:<6}{:>3} MP Embree's tree {:.1f} ms; whole buffer {:.1f} ms; ", name, megapixels, build,
             seen);
  timeComponents(buffer, scene.panels, camera, pairs);
}

std::size_t triangleCount(const scene::Scene& scene) {
  std::size_t count = 0;
  for (const scene::BloomInstance& bloom : scene.blooms) count += scene.meshes[bloom.mesh].triangles.size();
  return count;
}

int benchAll(int pairs, std::uint64_t seed, const std::vector<double>& sizes) {
  Bench bench(pairs);
  fmt::print("{} threads, medians of {} alternating pairs, seed {}; OpenGL: {}\n",
             std::thread::hardware_concurrency(), pairs, seed, bench.gl ? bench.gl->renderer() : "none");
  const scene::Scene small = testing::randomWall(testing::smallWall(seed));
  const scene::Scene large = testing::randomWall(testing::largeWall(seed));
  for (const scene::Scene* scene : {&small, &large}) {
    fmt::print("{} panels, {} blooms, {} triangles\n", scene->panels.columns * scene->panels.rows,
               scene->blooms.size(), triangleCount(*scene));
  }
  fmt::print("{:<28} {:>8} {:>11} {:>10} {:>11} {:>10}   pixels that differ\n", "wall, picture, kernel",
             "ours, ms", "Embree, ms", "/ ours", "OpenGL, ms", "/ ours");
  for (const double megapixels : sizes) bench.run("small", small, megapixels);
  for (const double megapixels : sizes) bench.run("large", large, megapixels);
  return 0;
}

}  // namespace
}  // namespace petalproof::bench

int main(int argc, char** argv) {
  const std::vector<std::string> words(argv + 1, argv + argc);
  if (!words.empty() && words[0] == "frames")
    return petalproof::bench::timeFrames(words.size() > 1 ? words[1] : "",
                                         words.size() > 2 ? std::max(1, std::atoi(words[2].c_str())) : 15);
  if (!words.empty() && words[0] == "fill")
    return petalproof::bench::timeFilling(words.size() > 1 ? std::atoi(words[1].c_str()) : 480);
  const bool reading_only = !words.empty() && words[0] == "reading";
  const std::size_t first = reading_only ? 1 : 0;
  const int pairs = words.size() > first ? std::max(1, std::atoi(words[first].c_str())) : 5;
  if (reading_only) return petalproof::bench::timeReading(words.size() > 2 ? words[2] : "group", pairs);
  if (!words.empty() && words[0] == "live") {
    petalproof::bench::printLiveTimes(words.size() > 1 ? std::max(1, std::atoi(words[1].c_str())) : 60,
                                      words.size() > 2);
    return 0;
  }
  const std::uint64_t seed = words.size() > 1 ? std::strtoull(words[1].c_str(), nullptr, 10) : 1;
  std::vector<double> sizes;
  for (std::size_t k = 2; k < words.size(); ++k) sizes.push_back(std::atof(words[k].c_str()));
  if (sizes.empty()) sizes = {2, 6, 24};
  const int failed = petalproof::bench::benchAll(pairs, seed, sizes);
  return failed != 0 ? failed : petalproof::bench::timeReading("group", pairs);
}
