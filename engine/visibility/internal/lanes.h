#pragma once
// A few pixels side by side, as gcc's and clang's vector extension: comparisons give all bits or none.
// Four lanes are what every x86-64 processor has; this is the one place to widen.

#include <cstdint>
#include <cstring>

namespace petalproof::visibility {

constexpr int lane_count = 4;
typedef std::int32_t Lanes __attribute__((vector_size(lane_count * sizeof(std::int32_t))));

typedef float FloatLanes __attribute__((vector_size(lane_count * sizeof(float))));

// Half as many numbers of twice the size.
typedef double Doubles __attribute__((vector_size(lane_count * sizeof(std::int32_t))));
typedef std::uint64_t Longs __attribute__((vector_size(lane_count * sizeof(std::int32_t))));
constexpr int half_count = lane_count / 2;

constexpr Lanes allLanes(std::int32_t value) { return Lanes{} + value; }
constexpr Lanes chosen(Lanes mask, Lanes yes, Lanes no) { return (mask & yes) | (~mask & no); }
// Modulo 2^32.
inline Lanes sumOf(Lanes a, Lanes b) {
  typedef std::uint32_t ULanes __attribute__((vector_size(sizeof(Lanes))));
  return reinterpret_cast<Lanes>(reinterpret_cast<ULanes>(a) + reinterpret_cast<ULanes>(b));
}
constexpr Lanes lesser(Lanes a, Lanes b) { return chosen(a < b, a, b); }
constexpr Lanes greater(Lanes a, Lanes b) { return chosen(a > b, a, b); }

// The lower (upper) 32 bits of the numbers in `a`, then of those in `b`.
inline Lanes lowerBits(Longs a, Longs b) {
  return __builtin_shufflevector(reinterpret_cast<Lanes>(a), reinterpret_cast<Lanes>(b), 0, 2, 4, 6);
}
inline Lanes upperBits(Longs a, Longs b) {
  return __builtin_shufflevector(reinterpret_cast<Lanes>(a), reinterpret_cast<Lanes>(b), 1, 3, 5, 7);
}

// 0, 1, 2, ...
inline Lanes laneNumbers() {
  Lanes numbers;
  for (int k = 0; k < lane_count; ++k) numbers[k] = k;
  return numbers;
}

inline std::int32_t leastOf(Lanes lanes) {
  std::int32_t least = lanes[0];
  for (int k = 1; k < lane_count; ++k) least = lanes[k] < least ? lanes[k] : least;
  return least;
}
// To and from memory that may lie anywhere.
template <class Vector>
void store(const Vector& lanes, void* to) {
  std::memcpy(to, &lanes, sizeof(lanes));
}
inline Lanes loaded(const void* from) {
  Lanes lanes;
  std::memcpy(&lanes, from, sizeof(lanes));
  return lanes;
}

}  // namespace petalproof::visibility
