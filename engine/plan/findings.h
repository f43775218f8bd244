#pragma once
// Collects the problems and warnings that the readers of a plan's sections find, and finishes their texts:
// quotes, numbers, suggestions of known names.

#include "engine/base/problem.h"
#include "engine/base/units.h"
#include "engine/plan/internal/toml.h"

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof::plan {

class Findings {
 public:
  explicit Findings(std::string file) : file_(std::move(file)) {}

  const std::string& file() const { return file_; }
  Place at(const toml::source_position& position) const;
  Place at(const toml::source_region& region) const { return at(region.begin); }
  Place at(const toml::node& node) const { return at(node.source()); }

  void problem(Place place, std::string message) {
    problems_.push_back({std::move(place), std::move(message)});
  }
  void warning(Place place, std::string message) {
    warnings_.push_back({std::move(place), std::move(message)});
  }
  bool anyProblem() const { return !problems_.empty(); }

  // In the order of the plan's file; those of other files (a grid's) behind them.
  std::vector<Problem> takeProblems();
  std::vector<Problem> takeWarnings();

  // ", did you mean ...?" or "". Stops suggesting in a file with very many misspelt names, to bound the time.
  std::string suggestion(const std::string& name, const std::vector<std::string>& known);
  // The same, or if no known name is near, the known names: "; it is one of ...".
  std::string unknownTail(const std::string& name, const std::vector<std::string>& known);

 private:
  std::string file_;
  std::vector<Problem> problems_;
  std::vector<Problem> warnings_;
  std::size_t compared_ = 0;
};

// A text of the plan for a message: in quotes, on a single line, cut if long.
std::string inQuotes(std::string_view text);
// The shortest number that reads back to the same value.
std::string numberText(double value);

// The names defined in one kind of section, each with its place.
class Names {
 public:
  // Returns false if the name is taken; its first place stays.
  bool add(const std::string& name, const Place& place);
  // True also for unknown names if a part of the section couldn't be read.
  bool mayHave(const std::string& name) const { return unread_ || place_of_.contains(name); }
  void someAreUnread() { unread_ = true; }
  const Place& placeOf(const std::string& name) const { return place_of_.at(name); }
  const std::vector<std::string>& inOrder() const { return in_order_; }

 private:
  std::map<std::string, Place> place_of_;
  std::vector<std::string> in_order_;
  bool unread_ = false;
};

}  // namespace petalproof::plan
