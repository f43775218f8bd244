#include "engine/visibility/coverage_bits.h"

#include "engine/visibility/internal/batch_view.h"
#include "engine/visibility/internal/clip.h"
#include "engine/visibility/internal/cover_kernels.h"
#include "engine/visibility/internal/order.h"
#include "engine/visibility/internal/setup.h"
#include "engine/visibility/internal/strip_mask.h"

#include <glm/vec4.hpp>

#include <algorithm>
#include <array>
#include <numeric>
#include <vector>

namespace petalproof::visibility {

static_assert(CoverageRasteriser::largest_side_px == visibility::largest_side_px);

namespace {

// The batches that one thread draws, into a mask of its own; a pixel is covered if any share covers it.
class Share {
 public:
  void start(const RasterView& view) { mask_.start(view.width_px, view.height_px); }
  void add(const TriangleBatch& batch, const RasterView& view, const CoverKernel& kernel);
  const StripMask& mask() const { return mask_; }

 private:
  void addClipped(const TriangleBatch& batch, const glm::dmat4x3& cameraFromBatch, const RasterView& view,
                  const CoverKernel& kernel);

  StripMask mask_;
  std::vector<CornerKey> corners_;
  std::vector<std::array<std::uint32_t, 3>> triangles_;  // of clipped polygons
};

void Share::add(const TriangleBatch& batch, const RasterView& view, const CoverKernel& kernel) {
  const glm::dmat4x3 transform = visibility::cameraFromBatch(batch, view);
  if (visibility::isBeside(batch, transform, view)) return;
  corners_.resize(batch.vertices.size());
  if (kernel.project(batch.vertices, transform, view, corners_.data()))
    kernel.cover(corners_.data(), batch.triangles, mask_);
  else
    addClipped(batch, transform, view, kernel);
}

void Share::addClipped(const TriangleBatch& batch, const glm::dmat4x3& cameraFromBatch,
                       const RasterView& view, const CoverKernel& kernel) {
  corners_.clear();
  triangles_.clear();
  for (const auto& [a, b, c] : batch.triangles) {
    const auto at = [&](std::uint32_t k) { return cameraFromBatch * glm::dvec4(batch.vertices[k], 1.0); };
    const std::array<glm::dvec3, 3> p{at(a), at(b), at(c)};
    if (!visibility::isFinite(p[0]) || !visibility::isFinite(p[1]) || !visibility::isFinite(p[2])) continue;
    const visibility::ClippedPolygon polygon = visibility::clipToGuard(p, view);
    const auto first = static_cast<std::uint32_t>(corners_.size());
    for (std::uint32_t k = 0; k < static_cast<std::uint32_t>(polygon.count); ++k) {
      const visibility::ScreenCorner corner = visibility::projected(polygon.corners[k], view);
      corners_.push_back(visibility::cornerKey(corner.x, corner.y));
      if (k >= 2) triangles_.push_back({first, first + k - 1, first + k});
    }
  }
  kernel.cover(corners_.data(), triangles_, mask_);
}

void resize(PixelMask& mask, int width_px, int height_px) {
  mask.width_px = width_px;
  mask.height_px = height_px;
  mask.words.resize(static_cast<std::size_t>(mask.wordsARow()) * static_cast<std::size_t>(height_px));
}

}  // namespace

struct CoverageRasteriser::State {
  State(const Pool& given, RasterKernel kernel_asked)
      : pool(given),
        kernel(kernel_asked == RasterKernel::fastest ? visibility::coverKernels().back()
                                                     : visibility::coverKernels().front()),
        shares(static_cast<std::size_t>(given.threads())) {}

  const Pool& pool;
  const CoverKernel& kernel;
  std::vector<Share> shares;

  void fill(std::span<const TriangleBatch> batches, const RasterView& view);
  // The pixels of a row's word that any share covers.
  std::uint64_t covered(int word, int y) const {
    std::uint64_t bits = 0;
    for (const Share& share : shares) bits |= *share.mask().rows(word, y);
    return bits;
  }
};

void CoverageRasteriser::State::fill(std::span<const TriangleBatch> batches, const RasterView& view) {
  std::vector<std::uint32_t> order(batches.size());
  std::iota(order.begin(), order.end(), 0U);
  const std::vector<std::size_t> runs = visibility::evenRuns(batches, order, shares.size());
  const auto fillShare = [&](std::size_t k) {
    shares[k].start(view);
    if (k + 1 >= runs.size()) return;
    for (std::size_t batch = runs[k]; batch < runs[k + 1]; ++batch)
      shares[k].add(batches[batch], view, kernel);
  };
  pool.forEach(shares.size(), fillShare);
}

CoverageRasteriser::CoverageRasteriser(const Pool& pool, RasterKernel kernel)
    : state_(std::make_unique<State>(pool, kernel)) {}
CoverageRasteriser::~CoverageRasteriser() = default;
CoverageRasteriser::CoverageRasteriser(CoverageRasteriser&&) noexcept = default;
CoverageRasteriser& CoverageRasteriser::operator=(CoverageRasteriser&&) noexcept = default;

void CoverageRasteriser::draw(std::span<const TriangleBatch> batches, const RasterView& view,
                              PixelMask& covered) {
  state_->fill(batches, view);
  resize(covered, view.width_px, view.height_px);
  const int right = view.width_px % PixelMask::word_px;
  const std::uint64_t in_last_word = right == 0 ? ~std::uint64_t{0} : (std::uint64_t{1} << right) - 1;
  for (int y = 0; y < view.height_px; ++y) {
    std::uint64_t* const row = covered.row(y);
    for (int word = 0; word < covered.wordsARow(); ++word) row[word] = state_->covered(word, y);
    if (covered.wordsARow() > 0) row[covered.wordsARow() - 1] &= in_last_word;
  }
}

void CoverageRasteriser::drawUncovered(std::span<const TriangleBatch> batches, const RasterView& view,
                                       const PixelMask& allowed, PixelMask& bare) {
  state_->fill(batches, view);
  resize(bare, view.width_px, view.height_px);
  for (int y = 0; y < view.height_px; ++y)
    for (int word = 0; word < bare.wordsARow(); ++word)
      bare.row(y)[word] = allowed.row(y)[word] & ~state_->covered(word, y);
}

}  // namespace petalproof::visibility
