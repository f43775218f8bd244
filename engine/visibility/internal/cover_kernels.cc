#include "engine/visibility/internal/cover_kernels.h"

#include "engine/visibility/internal/kernel_choice.h"

#include <array>

namespace petalproof::visibility {

std::span<const CoverKernel> coverKernels() {
  static const std::array kernels{baselineCoverKernel(), avx2CoverKernel()};
  return std::span(kernels).first(hasAvx2() ? 2 : 1);
}

}  // namespace petalproof::visibility
