#include "engine/reading/picture_looks.h"

#include "engine/base/picture_memory.h"
#include "engine/base/stopping.h"
#include "engine/camera/projection.h"
#include "engine/reading/internal/gap_mask.h"
#include "engine/reading/internal/patch_measure.h"
#include "engine/reading/internal/pieces.h"
#include "engine/reading/reading.h"

#include <cstdint>
#include <utility>

namespace petalproof::reading {
namespace {

// Whether the front part of a pixel is of the wall: mostly bloom, or covered board.
bool isWall(const LooksInput& input, const camera::Camera& camera, int x, int y) {
  const picture::WorkingPicture& picture = input.picture;
  const std::size_t k = picture.offset(x, y);
  const float front = 1 - picture.bare_share[k];
  if (front <= 0) return false;
  if (picture.bloom_share[k] > front / 2) return true;
  if (!input.panels.ground_covered) return false;
  const auto place = camera::boardPointOf(camera, {glm::dvec2(x + 0.5, y + 0.5)});
  return place && visibility::boardPlaneAt(input.panels, *place).sees() == visibility::Sees::board;
}

// 1 where it is.
void findWall(const LooksInput& input, const Pool& pool, std::vector<std::uint8_t>& wall) {
  const camera::WorkingSize& size = input.picture.size;
  const camera::Camera camera = camera::scaledTo(input.camera, size.width_px);
  resizePicture(wall, input.picture.bare_share.size(), pool);
  pool.forEach(static_cast<std::size_t>(size.height_px), [&](std::size_t row) {
    const int y = static_cast<int>(row);
    for (int x = 0; x < size.width_px; ++x)
      wall[input.picture.offset(x, y)] = isWall(input, camera, x, y) ? 1 : 0;
  });
}

// A hole or a piece, before it is measured.
struct Patch {
  PatchOf of;
  const std::vector<gaps::Run>* runs;
  PatchLooks* looks;
};

class PatchMeasurer {
 public:
  struct From {
    const LooksInput& input;
    const PatchPicture& picture;
  };
  explicit PatchMeasurer(const From& from)
      : input_(from.input),
        board_(boardInverse(from.input.camera, from.input.picture.size)),
        measure_(from.picture) {}

  void measure(const Patch& patch) {
    const camera::WorkingSize& size = input_.picture.size;
    const bool bare = patch.of == PatchOf::bare;
    const GapMask mask = maskOf(*patch.runs, bare ? input_.camera.width_px : size.width_px,
                                bare ? input_.camera.height_px : size.height_px, size);
    if (mask.spans.empty()) return;  // rounded away
    *patch.looks = measure_.measure(mask, patch.of, discOf(mask, bare));
  }

 private:
  // The lens's blur in the middle of the patch.
  double discOf(const GapMask& mask, bool bare) const {
    const MaskSpan& span = mask.spans[mask.spans.size() / 2];
    const int x = mask.left + (span.begin + span.end) / 2;
    const int y = mask.top + span.row;
    const float inverse = input_.picture.front_inverse_mm[input_.picture.offset(x, y)];
    return input_.lens.diameter(bare || inverse <= 0 ? board_.at(x, y) : static_cast<double>(inverse));
  }

  const LooksInput& input_;
  picture::InversePlane board_;
  PatchMeasure measure_;
};

double widthArcmin(const gaps::Hole& hole, const LooksInput& input) {
  const camera::WorkingSize& size = input.picture.size;
  constexpr double arcmin_per_degree = 60;
  return hole.width_px * size.width_px / input.camera.width_px * arcmin_per_degree / size.pixels_per_degree;
}

}  // namespace

struct PictureLooker::State {
  explicit State(const Pool& given) : pool(given) {}

  const Pool& pool;
  std::vector<std::uint8_t> wall;
  picture::BlurredPicture blurred;
  Planes seen;
};

PictureLooker::PictureLooker(const Pool& pool) : state_(std::make_unique<State>(pool)) {}
PictureLooker::~PictureLooker() = default;

PictureLooks PictureLooker::look(const LooksInput& input, const std::stop_token& stop) {
  State& state = *state_;
  const Pool& pool = state.pool;
  const camera::WorkingSize& size = input.picture.size;
  findWall(input, pool, state.wall);
  const std::vector<gaps::Component> pieces = piecesOf(input.picture, pool);
  const TileSet all(size.width_px, size.height_px, true);
  picture::blur(input.picture, boardInverse(input.camera, size), input.lens, pool, state.blurred, stop);
  throwIfStopAsked(stop);
  seeByEye(state.blurred.as_is, eyeKernels(size.pixels_per_degree), all, pool, state.seen);

  PictureLooks looks;
  looks.holes.resize(input.holes.size());
  looks.pieces.resize(pieces.size());
  std::vector<Patch> patches;
  for (std::size_t k = 0; k < input.holes.size(); ++k) {
    looks.widths_arcmin.push_back(widthArcmin(input.holes[k], input));
    patches.push_back({PatchOf::bare, &input.holes[k].whole.runs, &looks.holes[k]});
  }
  for (std::size_t k = 0; k < pieces.size(); ++k)
    patches.push_back({PatchOf::paper, &pieces[k].runs, &looks.pieces[k]});
  const PatchPicture picture{input.picture, state.wall, state.seen, kernelsBySize(size.pixels_per_degree),
                             input.elsewhere};
  pool.forEachWith<PatchMeasurer>(patches.size(), PatchMeasurer::From{input, picture},
                                  [&](std::size_t k, PatchMeasurer& measurer) {
                                    throwIfStopAsked(stop);
                                    measurer.measure(patches[k]);
                                  });
  return looks;
}

}  // namespace petalproof::reading
