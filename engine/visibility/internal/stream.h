#pragma once
// Writing a finished picture to memory without pulling its old contents into the cache first.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <memory>
#include <span>
#include <type_traits>

#if defined(__SSE2__)
#include <emmintrin.h>
#endif

namespace petalproof::visibility {

// Copies to memory that won't be read soon. Call streamDone() in the same thread before others read it.
template <class T>
void streamCopy(std::span<const T> from, T* to) {
  static_assert(std::is_trivially_copyable_v<T> && sizeof(T) == 4);
#if defined(__SSE2__)
  constexpr std::size_t step = 16 / sizeof(T);
  const std::size_t before = (16 - reinterpret_cast<std::uintptr_t>(to) % 16) % 16 / sizeof(T);
  std::size_t k = std::min(before, from.size());
  std::copy_n(from.data(), k, to);
  for (; k + step <= from.size(); k += step) {
    __m128i chunk;
    std::memcpy(&chunk, &from[k], sizeof(chunk));
    _mm_stream_si128(reinterpret_cast<__m128i*>(to + k), chunk);
  }
  std::copy(from.begin() + static_cast<std::ptrdiff_t>(k), from.end(), to + k);
#else
  std::copy(from.begin(), from.end(), to);
#endif
}

inline void streamDone() {
#if defined(__SSE2__)
  _mm_sfence();
#endif
}

}  // namespace petalproof::visibility
