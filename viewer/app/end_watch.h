#pragma once
// Closing the window closes it: work beside the hand is asked to stop, and what hasn't after a while is left.

#include <chrono>
#include <memory>

namespace petalproof::app {

// Ends the process, as done, unless it is destroyed within `patience`. Begin it when everything that has to
// be on the disk is, and nothing but stopping the workers is left to do.
class EndWatch {
 public:
  explicit EndWatch(std::chrono::milliseconds patience);
  ~EndWatch();
  EndWatch(const EndWatch&) = delete;
  EndWatch& operator=(const EndWatch&) = delete;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace petalproof::app
