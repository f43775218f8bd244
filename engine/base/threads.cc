#include "engine/base/threads.h"

#include <tbb/info.h>

#include <algorithm>

namespace petalproof {
namespace {

int threadsOfMachine() { return std::max(1, tbb::info::default_concurrency()); }

}  // namespace

int usableThreads(int asked) {
  const int available = threadsOfMachine();
  return asked > 0 ? std::min(asked, std::max(available, most_threads)) : available;
}

Workers::Workers(int threads) : arena_(usableThreads(threads)) {
  const int count = usableThreads(threads);
  if (count > threadsOfMachine())
    more_than_the_machine_has_.emplace(tbb::global_control::max_allowed_parallelism,
                                       static_cast<std::size_t>(count));
}

}  // namespace petalproof
