#include "engine/plan/internal/toml_text.h"

#include "engine/plan/findings.h"

#include <fmt/format.h>

namespace petalproof::plan {
namespace {

std::string escaped(char c) {
  switch (c) {
    case '"': return "\\\"";
    case '\\': return "\\\\";
    case '\n': return "\\n";
    case '\t': return "\\t";
    case '\r': return "\\r";
    default: break;
  }
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte == 0x7f ? fmt::format("\\u{:04X}", byte) : std::string(1, c);
}

}  // namespace

std::string tomlText(std::string_view text) {
  std::string quoted = "\"";
  for (const char c : text) quoted += escaped(c);
  return quoted + "\"";
}

// A zero has no sign in a plan: "-0" would be read as a whole number.
std::string tomlNumber(double value) { return numberText(value == 0 ? 0 : value); }
std::string tomlNumber(Length length) { return tomlNumber(length.value); }
std::string tomlColour(Colour colour) { return tomlText(toHex(colour)); }

std::string tomlList(const std::vector<std::string>& values) {
  return fmt::format("[{}]", fmt::join(values, ", "));
}

std::string KeyList::lines() const {
  return entries_.empty() ? "" : fmt::format("{}\n", fmt::join(entries_, "\n"));
}

std::string KeyList::inLine() const {
  return entries_.empty() ? "{}" : fmt::format("{{ {} }}", fmt::join(entries_, ", "));
}

}  // namespace petalproof::plan
