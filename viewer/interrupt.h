#pragma once
// Ctrl+C while a command works: the work ends at its next step, and nothing is written.

#include <exception>

namespace petalproof {

// Thrown out of the work; main says so and ends the program.
struct Interrupted : std::exception {
  const char* what() const noexcept override { return "stopped; nothing was written"; }
};

// While one lives, Ctrl+C (SIGINT) is only noted; the second time it ends the program at once. One at a time.
class InterruptWatch {
 public:
  InterruptWatch();
  ~InterruptWatch();
  InterruptWatch(const InterruptWatch&) = delete;
  InterruptWatch& operator=(const InterruptWatch&) = delete;

  bool asked() const;
  void endIfAsked() const {
    if (asked()) throw Interrupted{};
  }
};

}  // namespace petalproof
