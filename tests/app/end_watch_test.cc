// A window that was closed ends, whatever its workers do.

#include "viewer/app/end_watch.h"

#include <doctest/doctest.h>

#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <thread>

using namespace petalproof::app;
using namespace std::chrono_literals;

namespace {

// How a process ends that begins a watch of `patience` and then works for `work`: 7 where it came to the end.
int endOf(std::chrono::milliseconds patience, std::chrono::milliseconds work) {
  const pid_t child = ::fork();
  if (child == 0) {
    {
      const EndWatch watch(patience);
      std::this_thread::sleep_for(work);
    }
    std::this_thread::sleep_for(2 * patience);  // a watch that is over ends nothing
    ::_exit(7);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

TEST_CASE("a process that doesn't stop is ended, one that does isn't") {
  const auto start = std::chrono::steady_clock::now();
  CHECK(endOf(50ms, 60s) == 0);
  CHECK(std::chrono::steady_clock::now() - start < 30s);
  CHECK(endOf(2s, 0ms) == 7);
}
