#include "engine/plan/toml_lexer.h"

#include <algorithm>
#include <string>

namespace petalproof::plan {
namespace {

bool isQuote(char c) { return c == '"' || c == '\''; }

std::size_t endOfLine(std::string_view toml, std::size_t at) {
  std::size_t end = std::min(toml.find('\n', at), toml.size());
  while (end > at && toml[end - 1] == '\r') --end;
  return end;
}

}  // namespace

std::size_t endOfQuoted(std::string_view toml, std::size_t at) {
  constexpr std::size_t long_quotes = 3;
  const char quote = toml[at];
  const std::string long_quote(long_quotes, quote);
  const bool is_long = toml.substr(at).starts_with(long_quote);
  for (std::size_t i = at + (is_long ? long_quotes : 1); i < toml.size(); ++i) {
    if (quote == '"' && toml[i] == '\\') {
      ++i;
    } else if (is_long) {
      if (toml.substr(i).starts_with(long_quote)) return i + long_quotes;
    } else {
      if (toml[i] == quote) return i + 1;
      if (toml[i] == '\n') return i;
    }
  }
  return toml.size();
}

std::vector<std::string_view> commentsIn(std::string_view toml) {
  std::vector<std::string_view> comments;
  for (std::size_t at = 0; at < toml.size();) {
    if (isQuote(toml[at])) {
      at = endOfQuoted(toml, at);
    } else if (toml[at] == '#') {
      const std::size_t end = endOfLine(toml, at);
      comments.push_back(toml.substr(at, end - at));
      at = end;
    } else {
      ++at;
    }
  }
  return comments;
}

std::size_t firstComma(std::string_view toml) {
  for (std::size_t at = 0; at < toml.size();) {
    if (toml[at] == ',') return at;
    if (toml[at] == '#')
      at = endOfLine(toml, at);
    else
      at = isQuote(toml[at]) ? endOfQuoted(toml, at) : at + 1;
  }
  return toml.size();
}

}  // namespace petalproof::plan
