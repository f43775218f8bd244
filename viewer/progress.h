#pragma once
#include "viewer/interrupt.h"

#include <string>

namespace petalproof {

// One line on stderr that is written over; only where stderr is a terminal and it is wanted. While one lives,
// Ctrl+C ends the work at its next step.
class Progress {
 public:
  explicit Progress(bool wanted);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  // Throws Interrupted where that was asked for.
  void show(double share, const std::string& what);
  bool interrupted() const { return interrupt_.asked(); }

 private:
  InterruptWatch interrupt_;
  bool shown_ = false;
};

}  // namespace petalproof
