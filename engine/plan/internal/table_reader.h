#pragma once
// Reads the keys of a TOML table and reports unknown and missing keys. The readers of a plan's sections make
// one TableReader for each table.

#include "engine/plan/findings.h"
#include "engine/plan/internal/field.h"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace petalproof::plan {

// A table and the keys its reader has asked for. `finish` reports the keys that no reader asked for and the
// needed keys that are missing.
class TableReader {
 public:
  TableReader(Findings& findings, Units units, const toml::table& table, std::string owner);

  void setUnits(Units units) { units_ = units; }
  void setOwner(std::string owner) { owner_ = std::move(owner); }
  const std::string& owner() const { return owner_; }
  Place place() const { return findings_->at(*table_); }
  Findings& findings() const { return *findings_; }

  Field field(std::string_view key);
  // `example` completes "the wall has no "columns"; add ...".
  Field needed(std::string_view key, std::string_view example);
  // `colour`, or `color` instead; both together are reported.
  Field colourField();
  Field neededColour(std::string_view example);
  // The given key of two; both together are reported. Field::key() tells which.
  Field oneOf(std::string_view first, std::string_view second);
  Field neededOneOf(std::string_view first, std::string_view second, std::string_view example);

  void finish();

 private:
  const toml::node* find(std::string_view key);
  Field fieldOf(std::string_view key, const toml::node* node);
  Place keyPlace(std::string_view key) const;
  std::vector<std::string> reportUnknown()
      const;  // returns the known keys that misspelt keys were meant to be

  Findings* findings_;
  Units units_;
  const toml::table* table_;
  std::string owner_;
  std::vector<std::string> known_;
  std::vector<std::pair<std::string, std::string>> missing_;  // key, example
};

}  // namespace petalproof::plan
