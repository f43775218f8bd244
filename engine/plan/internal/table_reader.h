#pragma once
// Tables and their keys, read so that every mistake becomes a problem with its place: a field that is
// missing, of a wrong type or out of range gives nothing and has been reported.

#include "engine/base/colour.h"
#include "engine/plan/findings.h"
#include "engine/plan/internal/ranges.h"
#include "engine/plan/plan.h"

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace petalproof::plan {

class TableReader;

// A value with the key that people know it by. Without a value every reading gives nothing.
class Field {
 public:
  Field(Findings& findings, Units units, std::string key, const toml::node* node)
      : findings_(&findings), units_(units), key_(std::move(key)), node_(node) {}

  bool given() const { return node_ != nullptr; }
  const std::string& key() const { return key_; }
  Place place() const { return findings_->at(*node_); }
  const toml::node* node() const { return node_; }

  std::optional<std::string> text() const;
  // For people: at most 200 characters.
  std::optional<std::string> label() const;
  // Not empty, on one line, without spaces around it, at most 100 characters.
  std::optional<std::string> name() const;
  // The same, at most 1,000 characters: a file.
  std::optional<std::string> path() const;
  std::optional<bool> flag() const;
  std::optional<double> number(NumberRange range, std::string_view unit = "") const;
  std::optional<int> whole(WholeRange range) const;
  std::optional<long long> longWhole(WholeRange range) const;
  std::optional<Length> length(LengthRange range) const;
  std::optional<Colour> colour() const;
  // The number of the text among `choices`; `what` names the kind ("shape").
  std::optional<std::size_t> choice(std::string_view what, const std::vector<std::string>& choices) const;

  bool isText() const { return node_ && node_->is_string(); }
  bool isList() const { return node_ && node_->is_array(); }
  bool isTable() const { return node_ && node_->is_table(); }

  // The values of a list under this key's name. `meaning` says what the list must be.
  std::optional<std::vector<Field>> list(std::string_view meaning) const;
  std::optional<std::vector<Field>> listOf(std::size_t count, std::string_view meaning) const;
  // A table, or nothing. `owner` names it in messages, `meaning` says what it must be.
  std::optional<TableReader> table(std::string owner, std::string_view meaning) const;

  std::string inWords() const;                  // the value in the words of a message
  void mustBe(std::string_view meaning) const;  // reports a wrong type
  void wrong(std::string message) const;        // reports anything else

 private:
  bool hasLength(const std::string& text, std::size_t most) const;
  std::optional<std::string> onOneLine(std::size_t most) const;
  bool lengthFits(Length length, LengthRange range) const;

  Findings* findings_;
  Units units_;
  std::string key_;
  const toml::node* node_;
};

// One table. Keys that nobody asked for are unknown ones; `finish` reports them and what is missing.
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
  // `colour`, or `color` in its place; both are a mistake.
  Field colourField();
  Field neededColour(std::string_view example);
  // Either of two keys; both are a mistake. The field knows which by its key.
  Field oneOf(std::string_view first, std::string_view second);
  Field neededOneOf(std::string_view first, std::string_view second, std::string_view example);

  void finish();

 private:
  const toml::node* find(std::string_view key);
  Field fieldOf(std::string_view key, const toml::node* node);
  Place keyPlace(std::string_view key) const;
  std::vector<std::string> reportUnknown() const;  // what the unknown ones probably were meant to be

  Findings* findings_;
  Units units_;
  const toml::table* table_;
  std::string owner_;
  std::vector<std::string> known_;
  std::vector<std::pair<std::string, std::string>> missing_;  // key, example
};

template <class T, class U>
void assign(T& target, const std::optional<U>& value) {
  if (value) target = *value;
}

}  // namespace petalproof::plan
