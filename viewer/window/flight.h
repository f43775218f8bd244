#pragma once
// From one view to another in a moment, so that whoever looks keeps their bearings.

#include <algorithm>
#include <optional>

namespace petalproof::window {

class Flight {
 public:
  void begin(double now_s) { began_s_ = now_s; }
  void end() { began_s_.reset(); }
  bool isOn() const { return began_s_.has_value(); }

  // How far it is, 0 to 1, slow at both ends; from 1 on it is over.
  double share(double now_s) {
    constexpr double takes_s = 0.45;
    if (!began_s_) return 1;
    const double t = std::clamp((now_s - *began_s_) / takes_s, 0.0, 1.0);
    if (t >= 1) end();
    return t * t * (3 - 2 * t);
  }

 private:
  std::optional<double> began_s_;
};

}  // namespace petalproof::window
