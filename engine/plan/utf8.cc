#include "engine/plan/utf8.h"

#include <algorithm>

namespace petalproof::plan {
namespace {

unsigned byteAt(std::string_view text, std::size_t k) { return static_cast<unsigned char>(text[k]); }

// Bytes of the character that starts with `lead`; 0 for a byte that starts none.
std::size_t lengthFromLead(unsigned lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return 2;
  if (lead >= 0xE0 && lead <= 0xEF) return 3;
  if (lead >= 0xF0 && lead <= 0xF4) return 4;
  return 0;
}

// Overlong forms, surrogates and code points beyond U+10FFFF show in the second byte.
bool secondFits(unsigned lead, unsigned second) {
  const unsigned min = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
  const unsigned max = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
  return second >= min && second <= max;
}

std::size_t characterLength(std::string_view text) {
  const unsigned lead = byteAt(text, 0);
  const std::size_t length = lengthFromLead(lead);
  if (length == 0 || length > text.size()) return 0;
  if (length > 1 && !secondFits(lead, byteAt(text, 1))) return 0;
  for (std::size_t k = 2; k < length; ++k)
    if (startsCharacter(text[k])) return 0;
  return length;
}

}  // namespace

std::optional<std::size_t> firstBadByte(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = characterLength(text.substr(at));
    if (length == 0) return at;
    at += length;
  }
  return std::nullopt;
}

std::size_t characterCount(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), startsCharacter));
}

}  // namespace petalproof::plan
