#include "engine/base/colour.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof {
namespace {

std::optional<int> hexDigit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return std::nullopt;
}

float linearFromByte(std::uint8_t byte) {
  const float c = static_cast<float>(byte) / 255.0F;
  return c <= 0.04045F ? c / 12.92F : std::pow((c + 0.055F) / 1.055F, 2.4F);
}

std::uint8_t byteFromLinear(float linear) {
  const float c = std::clamp(linear, 0.0F, 1.0F);
  const float encoded = c <= 0.0031308F ? 12.92F * c : 1.055F * std::pow(c, 1.0F / 2.4F) - 0.055F;
  return static_cast<std::uint8_t>(std::lround(encoded * 255.0F));
}

}  // namespace

std::optional<Colour> colourFromHex(std::string_view text) {
  if (text.empty() || text.front() != '#') return std::nullopt;
  text.remove_prefix(1);
  if (text.size() != 3 && text.size() != 6) return std::nullopt;
  const std::size_t width = text.size() / 3;
  std::uint8_t channels[3] = {};
  for (std::size_t k = 0; k < 3; ++k) {
    const auto high = hexDigit(text[k * width]);
    const auto low = hexDigit(text[k * width + width - 1]);
    if (!high || !low) return std::nullopt;
    channels[k] = static_cast<std::uint8_t>(*high * 16 + *low);
  }
  return Colour{channels[0], channels[1], channels[2]};
}

std::string toHex(Colour colour) {
  return fmt::format("#{:02x}{:02x}{:02x}", colour.red, colour.green, colour.blue);
}

glm::vec3 linearFromSrgb(Colour colour) {
  return {linearFromByte(colour.red), linearFromByte(colour.green), linearFromByte(colour.blue)};
}

Colour srgbFromLinear(const glm::vec3& linear) {
  return {byteFromLinear(linear.x), byteFromLinear(linear.y), byteFromLinear(linear.z)};
}

}  // namespace petalproof
