#pragma once
// A colour as plans and pictures store it (sRGB bytes) and its conversion to the linear light that the engine
// computes with. Transfer function: IEC 61966-2-1:1999.

#include <glm/vec3.hpp>

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof {

// An sRGB colour, 8 bits a channel.
struct Colour {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;
  friend bool operator==(const Colour&, const Colour&) = default;
};

// Reads "#rrggbb" or "#rgb", upper or lower case; returns nothing for any other text.
std::optional<Colour> colourFromHex(std::string_view text);
// Writes "#rrggbb" in lower case.
std::string toHex(Colour colour);

// Linear light, each channel 0 to 1.
glm::vec3 linearFromSrgb(Colour colour);
// Channels outside 0 to 1 are clamped first.
Colour srgbFromLinear(const glm::vec3& linear);

}  // namespace petalproof
