#include "engine/base/threads.h"

#include <doctest/doctest.h>

#include <thread>

using namespace petalproof;

TEST_CASE("as many threads as asked for, never more than there are") {
  const int all = usableThreads(0);
  CHECK(all >= 1);
  CHECK(usableThreads(1) == 1);
  CHECK(usableThreads(100'000) == all);
  CHECK(all <= static_cast<int>(std::thread::hardware_concurrency()));
}
