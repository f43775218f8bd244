#include "engine/visibility/internal/cover_kernels.h"
#include "engine/visibility/internal/kernel/cover_fill.h"

namespace petalproof::visibility {

CoverKernel baselineCoverKernel() { return {"baseline", baseline::project, baseline::cover}; }

}  // namespace petalproof::visibility
