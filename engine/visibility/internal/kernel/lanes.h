#pragma once
// A few pixels side by side, as gcc's and clang's vector extension: comparisons give all bits or none.
//
// The headers of this folder are compiled once for each kind of processor, each time into a namespace of its
// own (PETALPROOF_KERNEL) and with its own number of lanes: by default four, which every x86-64 processor
// has. All give the same tiles.

#include <cstdint>
#include <cstring>

#if !defined(PETALPROOF_KERNEL)
#define PETALPROOF_KERNEL baseline
#define PETALPROOF_LANES 4
#endif

namespace petalproof::visibility::PETALPROOF_KERNEL {

constexpr int lane_count = PETALPROOF_LANES;
static_assert(lane_count == 4 || lane_count == 8);
typedef std::int32_t Lanes __attribute__((vector_size(lane_count * sizeof(std::int32_t))));

typedef std::uint32_t ULanes __attribute__((vector_size(sizeof(Lanes))));

// Vectors of the same size that hold half as many doubles.
typedef double Doubles __attribute__((vector_size(lane_count * sizeof(std::int32_t))));
constexpr int half_count = lane_count / 2;

inline Lanes allLanes(std::int32_t value) { return Lanes{} + value; }

// A mask for chosen() from masks of which only the top bit of each lane is known.
inline Lanes wholeMask(Lanes mask) { return lane_count == 8 ? mask : mask >> 31; }
// `yes` in the lanes where the mask is set, else `no`. With eight lanes only the top bits are looked at.
inline Lanes chosen(Lanes mask, Lanes yes, Lanes no) {
#if PETALPROOF_LANES == 8
  return mask < 0 ? yes : no;
#else
  return (mask & yes) | (~mask & no);
#endif
}
// Modulo 2^32.
inline Lanes sumOf(Lanes a, Lanes b) {
  return reinterpret_cast<Lanes>(reinterpret_cast<ULanes>(a) + reinterpret_cast<ULanes>(b));
}
inline Lanes lesser(Lanes a, Lanes b) { return chosen(a < b, a, b); }
inline Lanes greater(Lanes a, Lanes b) { return chosen(a > b, a, b); }

// The lower (upper) 32 bits of the numbers in `a`, then of those in `b`.
template <class Wide>
Lanes lowerBits(Wide a, Wide b) {
#if PETALPROOF_LANES == 8
  return __builtin_shufflevector(reinterpret_cast<Lanes>(a), reinterpret_cast<Lanes>(b), 0, 2, 4, 6, 8, 10,
                                 12, 14);
#else
  return __builtin_shufflevector(reinterpret_cast<Lanes>(a), reinterpret_cast<Lanes>(b), 0, 2, 4, 6);
#endif
}
template <class Wide>
Lanes upperBits(Wide a, Wide b) {
#if PETALPROOF_LANES == 8
  return __builtin_shufflevector(reinterpret_cast<Lanes>(a), reinterpret_cast<Lanes>(b), 1, 3, 5, 7, 9, 11,
                                 13, 15);
#else
  return __builtin_shufflevector(reinterpret_cast<Lanes>(a), reinterpret_cast<Lanes>(b), 1, 3, 5, 7);
#endif
}

// 0, 1, 2, ...
#if PETALPROOF_LANES == 8
inline Lanes laneNumbers() { return Lanes{0, 1, 2, 3, 4, 5, 6, 7}; }
inline Doubles halfNumbers() { return Doubles{0, 1, 2, 3}; }
#else
inline Lanes laneNumbers() { return Lanes{0, 1, 2, 3}; }
inline Doubles halfNumbers() { return Doubles{0, 1}; }
#endif

inline std::int32_t leastOf(Lanes lanes) {
  std::int32_t least = lanes[0];
  for (int k = 1; k < lane_count; ++k) least = lanes[k] < least ? lanes[k] : least;
  return least;
}
inline std::int32_t greatestOf(Lanes lanes) {
  std::int32_t greatest = lanes[0];
  for (int k = 1; k < lane_count; ++k) greatest = lanes[k] > greatest ? lanes[k] : greatest;
  return greatest;
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

}  // namespace petalproof::visibility::PETALPROOF_KERNEL
