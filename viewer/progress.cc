#include "viewer/progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>

namespace petalproof {

Progress::Progress(bool wanted) : shown_(wanted && isatty(STDERR_FILENO) == 1) {}

Progress::~Progress() {
  if (shown_) fmt::print(stderr, "\r\033[K");
}

void Progress::show(double share, const std::string& what) {
  interrupt_.endIfAsked();
  if (!shown_) return;
  fmt::print(stderr, "\r\033[K{:3.0f} %  {}", std::floor(share * 100), what);
  std::fflush(stderr);
}

}  // namespace petalproof
