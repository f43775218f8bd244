#pragma once
// Writes large numbers in messages about meshes.

#include <fmt/format.h>

#include <cstdint>
#include <string>

namespace petalproof::scene {

// The number with commas between thousands: "20,000,000".
inline std::string grouped(std::uint64_t number) {
  if (number < 1000) return std::to_string(number);
  return fmt::format("{},{:03}", grouped(number / 1000), number % 1000);
}

}  // namespace petalproof::scene
