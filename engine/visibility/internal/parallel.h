#pragma once
#include <tbb/parallel_for.h>

#include <atomic>
#include <cstddef>

namespace petalproof::visibility {

// body(k) for each k in [0, count), side by side. What happens before, in it and after is ordered by an
// atomic of our own: TBB's does so too, but the thread sanitizer can't see into the library.
template <class Body>
void forEach(std::size_t count, const Body& body) {
  std::atomic<std::size_t> handover{0};
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t k) {
    handover.fetch_add(1, std::memory_order_acq_rel);
    body(k);
    handover.fetch_add(1, std::memory_order_acq_rel);
  });
  handover.load(std::memory_order_acquire);
}

}  // namespace petalproof::visibility
