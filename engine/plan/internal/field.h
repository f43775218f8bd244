#pragma once
// Reads the value of a key of a TOML table: every mistake becomes a problem with its place. The readers of a
// plan's sections get Fields from a TableReader.

#include "engine/base/colour.h"
#include "engine/plan/findings.h"
#include "engine/plan/plan.h"
#include "engine/plan/ranges.h"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace petalproof::plan {

class TableReader;

// The value of a key, or a key without a value. Each reading returns the value if it is of the right type and
// range; otherwise it reports a problem (none for a key without a value) and returns nothing.
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
  // The name of a file: the same, at most 1,000 characters.
  std::optional<std::string> path() const;
  std::optional<bool> flag() const;
  std::optional<double> number(NumberRange range, std::string_view unit = "") const;
  std::optional<int> whole(WholeRange range) const;
  std::optional<long long> longWhole(WholeRange range) const;
  std::optional<Length> length(LengthRange range) const;
  std::optional<Colour> colour() const;
  // The number of the text among `choices`; `kind` names the choices ("shape").
  std::optional<std::size_t> choice(std::string_view kind, const std::vector<std::string>& choices) const;

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

// Sets `target` if there is a value.
template <class T, class U>
void assign(T& target, const std::optional<U>& value) {
  if (value) target = *value;
}

}  // namespace petalproof::plan
