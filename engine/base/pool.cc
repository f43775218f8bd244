#include "engine/base/pool.h"

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/info.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <atomic>
#include <optional>

namespace petalproof {
namespace {

int threadsOfMachine() { return std::max(1, tbb::info::default_concurrency()); }

tbb::task_arena::priority arenaPriority(Priority priority) {
  switch (priority) {
    case Priority::low: return tbb::task_arena::priority::low;
    case Priority::high: return tbb::task_arena::priority::high;
    case Priority::normal: break;
  }
  return tbb::task_arena::priority::normal;
}

}  // namespace

int usableThreads(int asked) {
  const int available = threadsOfMachine();
  return asked > 0 ? std::min(asked, std::max(available, most_threads)) : available;
}

struct Pool::Arena {
  Arena(int threads, Priority priority) : arena(threads, places_for_callers, arenaPriority(priority)) {
    if (threads > threadsOfMachine())
      more_than_the_machine_has.emplace(tbb::global_control::max_allowed_parallelism,
                                        static_cast<std::size_t>(threads));
  }

  static constexpr unsigned places_for_callers = 1;  // a loop always runs, if only on its caller's thread
  std::optional<tbb::global_control> more_than_the_machine_has;
  tbb::task_arena arena;
};

Pool::Pool(int threads, Priority priority) : threads_(usableThreads(threads)) {
  if (threads_ > 1) arena_ = std::make_unique<Arena>(threads_, priority);
}

Pool::~Pool() = default;

std::size_t Pool::place() const {
  return arena_ ? static_cast<std::size_t>(std::max(0, tbb::this_task_arena::current_thread_index())) : 0;
}

// The atomic orders the code before, within and after the loop for the thread sanitizer, which can't see
// TBB's own synchronisation.
void Pool::run(std::size_t count, Stretch stretch, const void* body) const {
  if (!arena_) return stretch(body, 0, count);
  std::atomic<std::size_t> handover{0};
  arena_->arena.execute([&] {
    handover.fetch_add(1, std::memory_order_acq_rel);
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count),
                      [&](const tbb::blocked_range<std::size_t>& range) {
                        handover.fetch_add(1, std::memory_order_acq_rel);
                        stretch(body, range.begin(), range.end());
                        handover.fetch_add(1, std::memory_order_acq_rel);
                      });
    handover.fetch_add(1, std::memory_order_acq_rel);
  });
  handover.load(std::memory_order_acquire);
}

}  // namespace petalproof
