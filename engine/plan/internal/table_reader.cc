#include "engine/plan/internal/table_reader.h"

#include "engine/base/length_text.h"
#include "engine/base/nearest_name.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::plan {

TableReader::TableReader(Findings& findings, Units units, const toml::table& table, std::string owner)
    : findings_(&findings), units_(units), table_(&table), owner_(std::move(owner)) {}

const toml::node* TableReader::find(std::string_view key) {
  known_.emplace_back(key);
  return table_->get(key);
}

Field TableReader::fieldOf(std::string_view key, const toml::node* node) {
  return {*findings_, units_, std::string(key), node};
}

Place TableReader::keyPlace(std::string_view key) const {
  return findings_->at(table_->find(key)->first.source());
}

Field TableReader::field(std::string_view key) { return fieldOf(key, find(key)); }

Field TableReader::needed(std::string_view key, std::string_view example) {
  Field found = field(key);
  if (!found.given()) missing_.emplace_back(key, example);
  return found;
}

Field TableReader::oneOf(std::string_view first, std::string_view second) {
  const toml::node* a = find(first);
  const toml::node* b = find(second);
  if (a && b) {
    const auto later = [](const Place& x, const Place& y) {
      return std::pair(x.line, x.column) < std::pair(y.line, y.column) ? y : x;
    };
    findings_->problem(later(keyPlace(first), keyPlace(second)),
                       fmt::format("{} has both \"{}\" and \"{}\"; keep one of them", owner_, first, second));
  }
  return b && !a ? fieldOf(second, b) : fieldOf(first, a);
}

Field TableReader::neededOneOf(std::string_view first, std::string_view second, std::string_view example) {
  Field found = oneOf(first, second);
  if (!found.given()) missing_.emplace_back(first, example);
  return found;
}

Field TableReader::colourField() {
  Field found = oneOf("colour", "color");
  std::erase(known_, "color");  // taken, but not what we suggest
  return found;
}

Field TableReader::neededColour(std::string_view example) {
  Field found = colourField();
  if (!found.given()) missing_.emplace_back("colour", example);
  return found;
}

std::vector<std::string> TableReader::reportUnknown() const {
  std::vector<std::string> meant;
  for (const auto& [key, value] : *table_) {
    const std::string name(key.str());
    const bool known = std::find(known_.begin(), known_.end(), name) != known_.end();
    if (known || (name == "color" && std::find(known_.begin(), known_.end(), "colour") != known_.end()))
      continue;
    std::string tail = findings_->suggestion(name, known_);
    if (tail.empty())
      tail = fmt::format("; it takes {}", fmt::join(known_, ", "));
    else if (const auto nearest = nearestName(name, known_))
      meant.push_back(*nearest);
    findings_->problem(findings_->at(key.source()),
                       fmt::format("{} has an unknown key {}{}", owner_, inQuotes(name), tail));
  }
  return meant;
}

void TableReader::finish() {
  const auto meant = reportUnknown();
  for (const auto& [key, example] : missing_) {
    if (std::find(meant.begin(), meant.end(), key) != meant.end()) continue;  // one mistake, one message
    findings_->problem(place(), fmt::format("{} has no \"{}\"; add {}", owner_, key, example));
  }
}

}  // namespace petalproof::plan
