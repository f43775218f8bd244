#include "engine/plan/table_text.h"

#include "engine/plan/csv_rows.h"
#include "engine/plan/utf8.h"

#include <iconv.h>

#include <array>
#include <cerrno>
#include <cstddef>
#include <optional>
#include <string_view>
#include <utility>

namespace petalproof::plan {
namespace {

constexpr std::size_t most_bytes = std::size_t{16} << 20;  // far beyond any table that people keep
constexpr std::string_view replacement = "\xEF\xBF\xBD";   // U+FFFD
constexpr std::size_t utf16_unit_bytes = 2;

enum class Order { low_first, high_first };

// A conversion of glibc's to UTF-8.
class Iconv {
 public:
  explicit Iconv(const char* from) : conversion_(::iconv_open("UTF-8", from)) {}
  Iconv(const Iconv&) = delete;
  Iconv& operator=(const Iconv&) = delete;
  ~Iconv() {
    if (isOpen()) ::iconv_close(conversion_);
  }
  // Fails only where the system's own conversions are missing.
  bool isOpen() const { return conversion_ != iconv_t(-1); }

  // Converts up to the first bytes that are no character, and takes what it converted off `bytes`.
  std::string convert(std::string_view& bytes) {
    constexpr std::size_t room_bytes = std::size_t{1} << 12;
    char room[room_bytes];
    std::string text;
    std::size_t converted = 0;
    do {
      char* in = const_cast<char*>(bytes.data());  // iconv only reads it
      std::size_t in_left = bytes.size();
      char* out = room;
      std::size_t out_left = room_bytes;
      converted = ::iconv(conversion_, &in, &in_left, &out, &out_left);
      text.append(room, room_bytes - out_left);
      bytes.remove_prefix(bytes.size() - in_left);
    } while (converted == std::size_t(-1) && errno == E2BIG);
    return text;
  }

 private:
  iconv_t conversion_;
};

// Half of a pair alone becomes the replacement character, half of a last unit nothing.
std::optional<std::string> fromUtf16(std::string_view bytes, Order order) {
  Iconv utf16(order == Order::low_first ? "UTF-16LE" : "UTF-16BE");
  if (!utf16.isOpen()) return std::nullopt;
  std::string text = utf16.convert(bytes);
  while (bytes.size() >= utf16_unit_bytes) {
    text += replacement;
    bytes.remove_prefix(utf16_unit_bytes);
    text += utf16.convert(bytes);
  }
  return text;
}

// Nothing where a byte is no letter.
std::optional<std::string> fromWindows1252(std::string_view bytes) {
  Iconv windows("CP1252");
  if (!windows.isOpen()) return std::nullopt;
  std::string text = windows.convert(bytes);
  return bytes.empty() ? std::optional<std::string>(std::move(text)) : std::nullopt;
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

// Characters that no text has: control characters but for the ends of lines and pages and tabs.
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
  std::optional<std::string> text;  // nothing where the bytes are no text
  bool other_encoding = false;      // guessed to be Windows-1252
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
  if (!found.text || hasNoTextsCharacters(*found.text)) return refused("is no text; save it as CSV in UTF-8");
  auto result = Result<std::string>::success(withNewlines(*found.text));
  if (found.other_encoding)
    result.warnings.push_back({place,
                               "isn't UTF-8: read as Windows-1252 (Western European); save it as CSV "
                               "in UTF-8 if letters with accents come out wrong"});
  return result;
}

}  // namespace petalproof::plan
