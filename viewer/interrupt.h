#pragma once
// Ctrl+C while a command works. Until the outputs are written nothing of them is on the disk: the program
// ends at once. While they are written Ctrl+C is only noted, so that nothing half-written is left.

namespace petalproof {

// While one lives, Ctrl+C (SIGINT), SIGTERM and SIGHUP say that nothing was written and end the program by
// the same signal. The second time they end it in any case. One at a time.
class InterruptWatch {
 public:
  InterruptWatch();
  ~InterruptWatch();
  InterruptWatch(const InterruptWatch&) = delete;
  InterruptWatch& operator=(const InterruptWatch&) = delete;
};

// Within the life of an InterruptWatch: outputs are being written.
class WritingWatch {
 public:
  WritingWatch();
  // Ends the program by a signal that came too late to stop the writing.
  ~WritingWatch();
  WritingWatch(const WritingWatch&) = delete;
  WritingWatch& operator=(const WritingWatch&) = delete;

  // Whether a signal has come. Writing that ends for it leaves everything as it was and throws Stopped; main
  // catches that and calls endByInterrupt.
  bool isAskedToStop() const;
};

// Says that nothing was written and ends the program by the signal that came.
[[noreturn]] void endByInterrupt();

}  // namespace petalproof
