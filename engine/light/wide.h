#pragma once
// Marks a function that is compiled once more for processors with AVX2 and with AVX-512, where the compiler
// can choose at run time. Its numbers are the same: no multiply-add is contracted.

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define PETALPROOF_WIDE __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define PETALPROOF_WIDE
#endif
