#pragma once
// A hand at a screen that nobody sees: Xvfb, the built program on it, mouse and keys by xdotool.

#include "engine/base/image.h"

#include <sys/types.h>

#include <chrono>
#include <filesystem>
#include <memory>
#include <string>
#include <thread>
#include <vector>

namespace petalproof::window_test {

// A process of ours, killed at the end of its life.
class Process {
 public:
  // `environment`: "NAME=value", added to our own. Its output goes to `log`.
  Process(const std::vector<std::string>& words, const std::vector<std::string>& environment,
          const std::filesystem::path& log);
  ~Process() { kill(); }
  Process(const Process&) = delete;
  Process& operator=(const Process&) = delete;

  bool runs();
  void kill();
  // Processor time that it has used so far, all its threads; 0 once it has ended.
  double cpuSeconds() const;

 private:
  pid_t id_ = -1;
};

class Screen {
 public:
  // Nothing can be tested where Xvfb can't be started: the test fails.
  Screen(int width, int height, const std::filesystem::path& folder);

  std::string display() const { return ":" + display_; }
  std::string environment() const { return "DISPLAY=" + display(); }

  void move(int x, int y) const;
  void click(int x, int y) const;
  void drag(int x, int y, int to_x, int to_y) const;
  void key(const std::string& keys) const;  // as xdotool calls them: "ctrl+s"
  void type(const std::string& text) const;
  // The whole screen as it is.
  Image picture() const;

 private:
  void act(std::vector<std::string> words) const;

  std::filesystem::path folder_;
  std::string display_;
  std::unique_ptr<Process> server_;
};

// Waits until it is so, at most that long; false where it never was.
template <class Condition>
bool comesTrue(const Condition& condition, int at_most_s = 60) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(at_most_s);
  while (!condition()) {
    if (std::chrono::steady_clock::now() > end) return false;
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  return true;
}

}  // namespace petalproof::window_test
