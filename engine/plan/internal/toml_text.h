#pragma once
// Writes values as TOML text; the writers of plans call these functions.

#include "engine/base/colour.h"
#include "engine/base/units.h"

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

// The text in quotes on a single line, special characters escaped.
std::string tomlText(std::string_view text);
// The shortest number that reads back to the same value.
std::string tomlNumber(double value);
std::string tomlNumber(Length length);
std::string tomlColour(Colour colour);
std::string tomlList(const std::vector<std::string>& values);  // [a, b]
inline std::string tomlFlag(bool value) { return value ? "true" : "false"; }

// Keys with their values: as lines, or as a table on one line.
class KeyList {
 public:
  void add(std::string_view key, std::string value) {
    entries_.push_back(std::string(key) + " = " + std::move(value));
  }
  bool empty() const { return entries_.empty(); }
  std::string lines() const;   // each with its newline
  std::string inLine() const;  // { a = 1, b = 2 }

 private:
  std::vector<std::string> entries_;
};

}  // namespace petalproof::plan
