#pragma once
// Tells whether kernels for AVX2 were compiled, and whether this processor can run them.

// Only gcc compiles them: clang 14 won't compile a part of a file for another processor.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__)
#define PETALPROOF_HAS_AVX2_KERNELS 1
#else
#define PETALPROOF_HAS_AVX2_KERNELS 0
#endif

namespace petalproof::visibility {

inline bool hasAvx2() {
#if PETALPROOF_HAS_AVX2_KERNELS
  return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("bmi") && __builtin_cpu_supports("bmi2") &&
         __builtin_cpu_supports("lzcnt") && __builtin_cpu_supports("popcnt");
#else
  return false;
#endif
}

}  // namespace petalproof::visibility
