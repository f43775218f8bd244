#pragma once
// The pools of tests whose results don't depend on the number of threads.

#include "engine/base/pool.h"

namespace petalproof::testing {

inline const Pool& allThreads() {
  static const Pool pool;
  return pool;
}
inline const Pool& oneThread() {
  static const Pool pool(1);
  return pool;
}

}  // namespace petalproof::testing
