#include "engine/plan/table_text.h"

#include "engine/plan/csv_rows.h"
#include "engine/plan/utf8.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <utility>

namespace petalproof::plan {
namespace {

constexpr std::size_t most_bytes = std::size_t{16} << 20;  // far beyond any table that people keep
constexpr char32_t replacement = 0xFFFD;

void append(std::string& text, char32_t c) {
  const auto byte = [&](char32_t value) { text += static_cast<char>(static_cast<unsigned char>(value)); };
  if (c < 0x80) {
    byte(c);
  } else if (c < 0x800) {
    byte(0xC0 | (c >> 6));
    byte(0x80 | (c & 0x3F));
  } else if (c < 0x10000) {
    byte(0xE0 | (c >> 12));
    byte(0x80 | ((c >> 6) & 0x3F));
    byte(0x80 | (c & 0x3F));
  } else {
    byte(0xF0 | (c >> 18));
    byte(0x80 | ((c >> 12) & 0x3F));
    byte(0x80 | ((c >> 6) & 0x3F));
    byte(0x80 | (c & 0x3F));
  }
}

enum class Order { low_first, high_first };

// RFC 2781; half of a pair alone becomes the replacement character.
std::string fromUtf16(std::string_view bytes, Order order) {
  const auto unit = [&](std::size_t at) {
    const auto a = static_cast<unsigned char>(bytes[at]);
    const auto b = static_cast<unsigned char>(bytes[at + 1]);
    return static_cast<char32_t>(order == Order::low_first ? a | (b << 8) : (a << 8) | b);
  };
  std::string text;
  for (std::size_t at = 0; at + 1 < bytes.size(); at += 2) {
    const char32_t first = unit(at);
    const bool high = first >= 0xD800 && first < 0xDC00;
    const char32_t second = high && at + 3 < bytes.size() ? unit(at + 2) : 0;
    const bool pair = second >= 0xDC00 && second < 0xE000;
    if (pair) at += 2;
    if (pair)
      append(text, 0x10000 + ((first - 0xD800) << 10) + (second - 0xDC00));
    else
      append(text, first >= 0xD800 && first < 0xE000 ? replacement : first);
  }
  return text;
}

// The characters of Windows-1252 at 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252).
constexpr std::array<char16_t, 32> windows_1252{{
    0x20AC, 0x0081, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0x008D, 0x017D, 0x008F, 0x0090, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x009D, 0x017E, 0x0178,
}};

std::string fromWindows1252(std::string_view bytes) {
  std::string text;
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    append(text, byte >= 0x80 && byte < 0xA0 ? windows_1252[byte - 0x80U] : byte);
  }
  return text;
}

// Recognises UTF-16 without a mark by zero bytes at every other place: over a third of all bytes there,
// hardly any at the other places.
std::optional<Order> unmarkedUtf16(std::string_view bytes) {
  std::array<std::size_t, 2> zeros{};
  for (std::size_t at = 0; at < bytes.size(); ++at)
    if (bytes[at] == '\0') ++zeros[at % 2];
  if (zeros[1] * 3 > bytes.size() && zeros[0] * 20 < zeros[1]) return Order::low_first;
  if (zeros[0] * 3 > bytes.size() && zeros[1] * 20 < zeros[0]) return Order::high_first;
  return std::nullopt;
}

// Says which other kind of file the bytes are; nothing for what may be a table.
std::optional<std::string> otherFile(std::string_view bytes) {
  constexpr std::array<std::pair<std::string_view, const char*>, 10> starts{{
      {"\x89PNG", "is a picture"},
      {"\xFF\xD8\xFF", "is a picture"},
      {"GIF8", "is a picture"},
      {"\x1F\x8B", "is a compressed file"},
      {"PK\x03\x04", "is a spreadsheet's own file (or a zip archive)"},
      {"\xD0\xCF\x11\xE0", "is a spreadsheet's own file"},
      {"%PDF", "is a PDF"},
      {"<?xml", "is an XML file"},
      {"<html", "is a web page"},
      {"<!DOCTYPE", "is a web page"},
  }};
  for (const auto& [start, kind] : starts)
    if (bytes.starts_with(start))
      return std::string(kind) + "; open it in the spreadsheet and save it as CSV";
  return std::nullopt;
}

// Characters that no text has: control characters but for the ends of lines and pages and tabs, and what
// Windows-1252 has no letter for.
bool hasNoTextsCharacters(std::string_view text) {
  bool after_c2 = false;  // then U+0080 to U+00BF follow
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool control = (byte < 0x20 && (byte < '\t' || byte > '\r')) || byte == 0x7F;
    if (control || (after_c2 && byte >= 0x80 && byte < 0xA0 && byte != 0x85)) return true;
    after_c2 = byte == 0xC2;
  }
  return false;
}

struct Decoded {
  std::string text;
  bool other_encoding = false;  // guessed to be Windows-1252
};

Decoded decoded(std::string_view bytes) {
  if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
  if (bytes.starts_with("\xFF\xFE")) return {fromUtf16(bytes.substr(2), Order::low_first)};
  if (bytes.starts_with("\xFE\xFF")) return {fromUtf16(bytes.substr(2), Order::high_first)};
  if (const auto order = unmarkedUtf16(bytes)) return {fromUtf16(bytes, *order)};
  if (firstBadByte(bytes)) return {fromWindows1252(bytes), true};
  return {std::string(bytes)};
}

}  // namespace

Result<std::string> tableText(const TableFile& file) {
  const Place place{file.name};
  const auto refused = [&](std::string why) { return Result<std::string>::failure(place, std::move(why)); };
  if (file.bytes.size() > most_bytes) return refused("is larger than the limit of 16 MiB");
  if (const auto why = otherFile(file.bytes)) return refused(*why);
  const Decoded found = decoded(file.bytes);
  if (hasNoTextsCharacters(found.text)) return refused("is no text; save it as CSV in UTF-8");
  auto result = Result<std::string>::success(withNewlines(found.text));
  if (found.other_encoding)
    result.warnings.push_back({place,
                               "isn't UTF-8: read as Windows-1252 (Western European); save it as CSV "
                               "in UTF-8 if letters with accents come out wrong"});
  return result;
}

}  // namespace petalproof::plan
