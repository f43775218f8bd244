#pragma once
// Measures patches of a picture: each is filled by what surrounds it, the change is blurred as the lens blurs
// it and seen as the eye sees it.

#include "engine/picture/working_picture.h"
#include "engine/reading/internal/lone_eye.h"
#include "engine/reading/patch_looks.h"
#include "engine/reading/internal/patch_window.h"
#include "engine/reading/internal/smooth_fill.h"
#include "engine/reading/scielab.h"

#include <array>
#include <cstdint>
#include <vector>

namespace petalproof::reading {

// What patches are measured in.
struct PatchPicture {
  const picture::WorkingPicture& sharp;
  const std::vector<std::uint8_t>& wall;  // as with gatherPatch
  const Planes& seen;                     // opponent planes, blurred and as the eye sees them
  std::vector<EyeKernels> kernels;        // for cells of 1, 2, 4 ... pixels
  glm::vec3 elsewhere{0.18F};             // fills a patch that no wall borders, linear light
};

// For cells of 1, 2, 4 ... 64 pixels.
std::vector<EyeKernels> kernelsBySize(double pixels_per_degree);

// Keeps its room from one patch to the next.
class PatchMeasure {
 public:
  // Refers to `picture`, which must outlive it.
  explicit PatchMeasure(const PatchPicture& picture) : picture_(picture) {}

  // `disc_px`: diameter of the lens's blur disc at the patch's depth.
  PatchLooks measure(const GapMask& mask, PatchOf of, double disc_px);

 private:
  using ThreePlanes = std::array<std::vector<float>, 3>;

  bool isOwn(std::size_t cell) const;
  void fill();
  void findChange();
  void spread(double disc_cells, int margin);
  void see(const GrownMask& around, int margin);
  bool addSeen(int x, int y);
  double compare(const GrownMask& around, int margin);

  const PatchPicture& picture_;
  PatchWindow window_;
  FillWindow filled_;
  bool has_border_ = false;
  SmoothFill fill_;
  GapMask cells_;  // the patch, by cells
  LoneEye eye_;
  std::vector<LoneEye::Wanted> wanted_;
  ThreePlanes sharp_;  // what filling adds, in opponent planes on the patch's window
  ThreePlanes soft_;   // the same blurred, on a wider one
  ThreePlanes added_;  // and as the eye sees it
  ThreePlanes seen_;   // the picture there, cell by cell of the grown patch
  ThreePlanes there_;
  std::vector<float> row_;
  std::vector<float> sums_;
  std::vector<float> squares_;
};

}  // namespace petalproof::reading
