#pragma once
#include <string>

namespace petalproof {

// One line on stderr that is written over; only where stderr is a terminal and it is wanted.
class Progress {
 public:
  explicit Progress(bool wanted);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void show(double share, const std::string& what);

 private:
  bool shown_ = false;
};

}  // namespace petalproof
