#include "viewer/progress.h"

#include "viewer/complain.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>

namespace petalproof {

Progress::Progress(bool wanted) : shown_(wanted && isatty(STDERR_FILENO) == 1) {}

Progress::~Progress() {
  if (shown_) sayToErrors("\r\033[K");
}

void Progress::show(double share, const std::string& step) {
  if (shown_) sayToErrors(fmt::format("\r\033[K{:3.0f} %  {}", std::floor(share * 100), step));
}

}  // namespace petalproof
