#include "engine/visibility/internal/clip.h"
#include "engine/visibility/internal/cover_kernels.h"
#include "engine/visibility/internal/kernel_choice.h"
#include "engine/visibility/internal/setup.h"

// All that the kernel includes from outside its folder, before the compiler is told of wider lanes: what
// isn't the kernel's own may be shared with code for any processor.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>

#if PETALPROOF_HAS_AVX2_KERNELS
#include <immintrin.h>
#endif

#if PETALPROOF_HAS_AVX2_KERNELS

#pragma GCC target("avx2,bmi,bmi2,lzcnt,popcnt")
#define PETALPROOF_KERNEL avx2
#define PETALPROOF_LANES 8
#include "engine/visibility/internal/kernel/cover_fill.h"

namespace petalproof::visibility {

CoverKernel avx2CoverKernel() { return {"avx2", avx2::project, avx2::cover}; }

}  // namespace petalproof::visibility

#else

namespace petalproof::visibility {

CoverKernel avx2CoverKernel() { return baselineCoverKernel(); }

}  // namespace petalproof::visibility

#endif
