#include "engine/base/threads.h"

#include <tbb/info.h>

#include <algorithm>

namespace petalproof {

int usableThreads(int asked) {
  const int available = std::max(1, tbb::info::default_concurrency());
  return asked > 0 ? std::min(asked, available) : available;
}

}  // namespace petalproof
