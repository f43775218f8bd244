// Ctrl+C while the program works.

#include "tests/program/run_program.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::program;

namespace {

void stopAfter(double seconds, std::vector<std::string> arguments, const TemporaryFolder& folder) {
  CAPTURE(arguments[0]);
  CAPTURE(seconds);
  arguments.insert(arguments.begin() + 1, demoPlan().string());
  const Outcome stopped = runAndInterrupt(arguments, folder.path(), seconds);
  CAPTURE(stopped.seconds);
  CHECK(stopped.status == 3);
  CHECK(stopped.out.empty());
  CHECK(stopped.err == "petalproof: stopped; nothing was written\n");
  // What was begun of one shot, or of one step of the search, is ended.
  CHECK(stopped.seconds < seconds + 8);
  CHECK(std::filesystem::is_empty(folder.path()));
}

}  // namespace

TEST_CASE("Ctrl+C stops a filling soon, and nothing is written") {
  const TemporaryFolder folder;
  // While the plan is checked, and while fillers are placed.
  for (const double seconds : {0.5, 5.0})
    stopAfter(
        seconds,
        {"fill", "--shot", "child", "--out", "filled.toml", "--json", "fill.json", "--pictures", "pictures"},
        folder);
}

TEST_CASE("Ctrl+C stops a long check soon, and nothing is written") {
  const TemporaryFolder folder;
  stopAfter(0.5, {"check", "--json", "check.json", "--pictures", "pictures"}, folder);
  stopAfter(5, {"check", "--shot", "child", "--advice", "--json", "check.json"}, folder);
}
