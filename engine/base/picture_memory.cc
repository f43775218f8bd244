#include "engine/base/picture_memory.h"

#include <algorithm>
#include <cstdint>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace petalproof {

void preferLargePages([[maybe_unused]] void* memory, [[maybe_unused]] std::size_t bytes) {
#if defined(__linux__)
  constexpr std::uintptr_t large_page = std::uintptr_t{1} << 21;  // bytes, on x86-64 and most ARM systems
  const auto start = reinterpret_cast<std::uintptr_t>(memory);
  const std::uintptr_t first = (start + large_page - 1) / large_page * large_page;
  const std::uintptr_t last = (start + bytes) / large_page * large_page;
  if (first < last) madvise(reinterpret_cast<void*>(first), last - first, MADV_HUGEPAGE);  // NOLINT
#endif
}

void touchFirst(void* memory, std::size_t bytes, const Pool& pool) {
  constexpr std::size_t page = 4096;                     // bytes, the smallest page in use
  constexpr std::size_t stretch = std::size_t{1} << 22;  // bytes a task: two large pages
  if (bytes < stretch || pool.threads() == 1) return;
  auto* const first = static_cast<unsigned char*>(memory);
  pool.forEach((bytes + stretch - 1) / stretch, [&](std::size_t k) {
    const std::size_t end = std::min(bytes, (k + 1) * stretch);
    for (std::size_t at = k * stretch; at < end; at += page) first[at] = 0;
  });
}

}  // namespace petalproof
