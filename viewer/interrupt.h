#pragma once
// Handles Ctrl+C while a command works. Before the outputs are written the disk has no part of them, and the
// program ends at once. While they are written Ctrl+C is only noted, so that no half-written file is left.

#include <exception>

namespace petalproof {

// Thrown from within the writing, which then leaves everything as it was; main() ends the program.
struct Interrupted : std::exception {
  const char* what() const noexcept override { return "stopped; nothing was written"; }
};

// During this object's life Ctrl+C (SIGINT), SIGTERM and SIGHUP say that nothing was written and end the
// program by the same signal; a second signal ends it in any case. Only a single object may live at a time.
class InterruptWatch {
 public:
  InterruptWatch();
  ~InterruptWatch();
  InterruptWatch(const InterruptWatch&) = delete;
  InterruptWatch& operator=(const InterruptWatch&) = delete;
};

// Marks the time in which outputs are written, within the life of an InterruptWatch.
class WritingWatch {
 public:
  WritingWatch();
  // If a signal came too late to stop the writing, ends the program by it.
  ~WritingWatch();
  WritingWatch(const WritingWatch&) = delete;
  WritingWatch& operator=(const WritingWatch&) = delete;

  // Throws Interrupted where a signal has come.
  void endIfAsked() const;
};

// Says that nothing was written and ends the program by the signal that came.
[[noreturn]] void endByInterrupt();

}  // namespace petalproof
