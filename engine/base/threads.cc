#include "engine/base/threads.h"

namespace petalproof {

Workers::Workers(int threads) : arena_(usableThreads(threads)) {
  const int count = usableThreads(threads);
  if (count > usableThreads(0))
    more_than_the_machine_has_.emplace(tbb::global_control::max_allowed_parallelism,
                                       static_cast<std::size_t>(count));
}

}  // namespace petalproof
