#include "viewer/app/internal/journal_text.h"

#include <fmt/format.h>

#include <charconv>
#include <cstdint>

namespace petalproof::app {
namespace {

constexpr std::string_view first_line = "petalproof journal 1\n";
// A record's line has a name, two numbers of 64 bits and the blanks between them.
constexpr std::size_t most_line_bytes = 64;
// A hostile file may seem to have a record at every byte. The reading ends once the checksums of such false
// records took this many times the file's bytes; torn files have few.
constexpr std::size_t most_false_sums = 8;

// G. Fowler, L. Noll, K. Vo, "The FNV Non-Cryptographic Hash Algorithm", IETF draft: FNV-1a, 64 bits.
std::uint64_t sumOf(std::string_view bytes) {
  std::uint64_t sum = 0xcbf29ce484222325ULL;
  for (const char byte : bytes) sum = (sum ^ static_cast<unsigned char>(byte)) * 0x100000001b3ULL;
  return sum;
}

// Takes a line from the beginning of `text`; nothing where no line ends.
std::optional<std::string_view> takeLine(std::string_view& text) {
  const std::size_t end = text.substr(0, most_line_bytes).find('\n');
  if (end == std::string_view::npos) return std::nullopt;
  const std::string_view line = text.substr(0, end);
  text.remove_prefix(end + 1);
  return line;
}

template <class Number>
bool takeNumber(std::string_view& text, Number& number, int base) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number, base);
  if (error != std::errc()) return false;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return true;
}

// Takes a record from the beginning of `text`: a line "NAME BYTES SUM" and that many bytes with that
// checksum. Nothing where no such record follows; `false_bytes` grows by the bytes whose checksum was wrong.
std::optional<std::string_view> takeRecord(std::string_view& text, std::string_view name,
                                           std::size_t& false_bytes) {
  std::string_view unread = text;
  auto line = takeLine(unread);
  std::size_t bytes = 0;
  std::uint64_t sum = 0;
  if (!line || !line->starts_with(name)) return std::nullopt;
  line->remove_prefix(name.size());
  if (!line->starts_with(' ')) return std::nullopt;
  line->remove_prefix(1);
  if (!takeNumber(*line, bytes, 10) || !line->starts_with(' ')) return std::nullopt;
  line->remove_prefix(1);
  if (!takeNumber(*line, sum, 16) || !line->empty() || unread.size() < bytes) return std::nullopt;
  const std::string_view content = unread.substr(0, bytes);
  if (sumOf(content) != sum) {
    false_bytes += content.size();
    return std::nullopt;
  }
  text = unread.substr(bytes);
  return content;
}

// The last whole record of a plan, with torn records before and after it ignored.
std::optional<std::string_view> lastPlan(std::string_view text, std::size_t false_bytes) {
  const std::size_t most_false_bytes = most_false_sums * text.size();
  std::optional<std::string_view> last;
  while (false_bytes <= most_false_bytes) {
    if (const auto plan = takeRecord(text, "plan", false_bytes)) {
      last = plan;
      continue;
    }
    const std::size_t next = text.find("plan ", 1);
    if (next == std::string_view::npos) break;
    text.remove_prefix(next);
  }
  return last;
}

std::string record(std::string_view name, std::string_view content) {
  return fmt::format("{} {} {:x}\n{}", name, content.size(), sumOf(content), content);
}

}  // namespace

std::string headText(const JournalHead& head) {
  return std::string(first_line) + record("path", head.path.string()) +
         record("directory", head.directory.string());
}

std::string recordText(std::string_view plan) { return record("plan", plan); }

std::optional<JournalText> journalFrom(std::string_view bytes) {
  if (!bytes.starts_with(first_line)) return std::nullopt;
  bytes.remove_prefix(first_line.size());
  std::size_t false_bytes = 0;
  const auto path = takeRecord(bytes, "path", false_bytes);
  const auto directory = path ? takeRecord(bytes, "directory", false_bytes) : std::nullopt;
  const auto plan = lastPlan(bytes, false_bytes);
  if (!plan) return std::nullopt;
  JournalText text{{}, std::string(*plan)};
  if (directory) text.head = {std::string(*path), std::string(*directory)};
  return text;
}

}  // namespace petalproof::app
