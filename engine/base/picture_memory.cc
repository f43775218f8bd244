#include "engine/base/picture_memory.h"

#include <cstdint>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace petalproof {

void preferLargePages([[maybe_unused]] void* memory, [[maybe_unused]] std::size_t bytes) {
#if defined(__linux__)
  constexpr std::uintptr_t large_page = std::uintptr_t{1} << 21;
  const auto start = reinterpret_cast<std::uintptr_t>(memory);
  const std::uintptr_t first = (start + large_page - 1) / large_page * large_page;
  const std::uintptr_t last = (start + bytes) / large_page * large_page;
  if (first < last) madvise(reinterpret_cast<void*>(first), last - first, MADV_HUGEPAGE);  // NOLINT
#endif
}

}  // namespace petalproof
