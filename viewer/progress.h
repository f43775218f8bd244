#pragma once
// Shows how far a command has come.

#include <string>

namespace petalproof {

// A line on stderr that overwrites itself. It shows only if it is wanted and stderr is a terminal.
class Progress {
 public:
  explicit Progress(bool wanted);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  // `step`: the step that runs, as "reading shot front".
  void show(double share, const std::string& step);

 private:
  bool shown_ = false;
};

}  // namespace petalproof
