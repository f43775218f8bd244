#pragma once
#include <string>

namespace petalproof {

// A progress line on stderr that overwrites itself; shown only if it is wanted and stderr is a terminal.
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
