#pragma once
// Times the flight from a view to another: a short movement, so that the person keeps their bearings. The
// wall drawing and the walking view blend their views by its share.

#include <algorithm>
#include <optional>

namespace petalproof::window {

class Flight {
 public:
  void begin(double now_s) { began_s_ = now_s; }
  void end() { began_s_.reset(); }
  bool isOn() const { return began_s_.has_value(); }

  // The share of the way at a time, 0 to 1, slow at both ends; 1 ends the flight.
  double share(double now_s) {
    constexpr double takes_s = 0.45;  // long enough to follow, too short to wait for
    if (!began_s_) return 1;
    const double t = std::clamp((now_s - *began_s_) / takes_s, 0.0, 1.0);
    if (t >= 1) end();
    return t * t * (3 - 2 * t);
  }

 private:
  std::optional<double> began_s_;
};

}  // namespace petalproof::window
