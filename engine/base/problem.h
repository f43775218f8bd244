#pragma once
// Errors as values: a Problem says what is wrong with an input and where; a Result holds a value or its
// problems. A problem's text is a contract and is tested.

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace petalproof {

// Where a parsed thing stands. Lines and columns count from 1; 0: not known (the file as a whole).
// The column counts characters (Unicode code points), as an editor shows them.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  std::string letters = {};  // of the column, in a spreadsheet's table: then `line` is its row
  friend bool operator==(const Place&, const Place&) = default;
};

struct Problem {
  Place place;
  std::string message;  // what is wrong, what would be right
  friend bool operator==(const Problem&, const Problem&) = default;
};

// "file:line:column: message", without unknown parts; "file:row:letters: message" in a table.
std::string toString(const Problem& problem);

// A value, or the problems that kept it from being made. Warnings may come with a value.
template <class T>
struct Result {
  std::optional<T> value;
  std::vector<Problem> problems;  // not empty exactly if there is no value
  std::vector<Problem> warnings;

  explicit operator bool() const { return value.has_value(); }

  static Result success(T made, std::vector<Problem> warned = {}) {
    return {std::move(made), {}, std::move(warned)};
  }
  static Result failure(std::vector<Problem> found) { return {std::nullopt, std::move(found), {}}; }
  static Result failure(Place where, std::string message) {
    return failure({Problem{std::move(where), std::move(message)}});
  }
};

}  // namespace petalproof
