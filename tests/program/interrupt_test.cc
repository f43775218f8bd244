// Ctrl+C while the program works.

#include "tests/program/run_program.h"

#include <doctest/doctest.h>

#include <csignal>
#include <filesystem>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::program;

namespace {

void stopAfter(double seconds, const std::vector<std::string>& arguments, const TemporaryFolder& folder,
               int signal = SIGINT) {
  CAPTURE(arguments[0]);
  CAPTURE(seconds);
  const Interruption stopped = runAndInterrupt(arguments, folder.path(), seconds, signal);
  CAPTURE(stopped.seconds_to_end);
  CHECK(stopped.status == -1);
  CHECK(stopped.signal == signal);
  CHECK(stopped.out.empty());
  CHECK(stopped.err == "petalproof: stopped; nothing was written\n");
  CHECK(stopped.seconds_to_end < 1);
  CHECK(std::filesystem::is_empty(folder.path()));
}

}  // namespace

TEST_CASE("Ctrl+C ends a filling within a second, and nothing is written") {
  const TemporaryFolder folder;
  // While the plan is checked, and while fillers are placed.
  for (const double seconds : {0.5, 3.0, 8.0})
    stopAfter(seconds,
              {"fill", demoPlan().string(), "--out", "filled.toml", "--json", "fill.json", "--pictures",
               "pictures"},
              folder);
}

TEST_CASE("Ctrl+C ends a long check within a second, and nothing is written") {
  const TemporaryFolder folder;
  const std::string demo = demoPlan().string();
  stopAfter(0.5, {"check", demo, "--json", "check.json", "--pictures", "pictures"}, folder);
  stopAfter(5, {"check", demo, "--shot", "child", "--advice", "--json", "check.json"}, folder);
  stopAfter(0.5, {"check", demo, "--as-seen", "seen"}, folder, SIGTERM);
}

TEST_CASE("Ctrl+C ends the arranging of a large wall within a second") {
  const TemporaryFolder folder;
  stopAfter(0.3,
            {"new", "my.toml", "--recipe", "large=1,medium=3,small=12", "--columns", "60", "--rows", "60"},
            folder);
}
