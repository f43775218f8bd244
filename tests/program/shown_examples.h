#pragma once
// Carries out the examples of a page, one after the other, in a folder of their own.
//
// What stands behind the ``` of an example says what becomes of it:
//   toml [NAME]   a plan, or a part of one, which is completed: its sections are added to
//   assets/plans/tiny.toml, and
//                 keys in single sections replace those that are there. The plan must pass `petalproof
//                 check`, and stays there as NAME for the examples that follow.
//   csv NAME      a table, kept as NAME
//   sh            lines beginning with `petalproof`, run one by one; each has to end with status 0, or with
//   the N of
//                 "# exit status N"
//   json          has to parse
//   text          what the program prints; not tried. Likewise nothing at all on the README.
// To be done soon, all shots are made small, and boards of plans that `petalproof new` writes are covered,
// which leaves only seams to hide.

#include "tests/program/run_program.h"

#include <set>
#include <string>

namespace petalproof::program {

class ExampleFolder {
 public:
  ExampleFolder();  // with a copy of assets, for commands that name the demo

  // What is wrong with an example; empty if nothing is.
  std::string whyNot(const std::string& info, const std::string& example);

 private:
  std::string whyNotPlan(const std::string& name, const std::string& text);
  std::string whyNotCommand(const std::string& line);
  void makeNewPlansSmall();

  TemporaryFolder folder_;
  std::set<std::string> small_;  // plans that are small already
};

}  // namespace petalproof::program
