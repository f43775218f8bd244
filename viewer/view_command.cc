// petalproof, petalproof PLAN, petalproof view PLAN: the window.

#include "viewer/command.h"
#include "viewer/window/window.h"

#include <fmt/format.h>

#include <cstdio>
#include <memory>

namespace petalproof {
namespace {

ExitStatus runView(const window::WindowOptions& options) {
  const auto wrong = window::runWindow(options);
  if (!wrong) return ExitStatus::done;
  fmt::print(stderr, "petalproof: {}\n", *wrong);
  return ExitStatus::failed;
}

}  // namespace

Action setUpView(CLI::App& app) {
  const auto options = std::make_shared<window::WindowOptions>();
  app.add_option("PLAN", options->plan, "The plan file; without one, the page to start from");
  app.add_option("--threads", options->threads, "Check with this many threads (default: all cores)")
      ->check(CLI::Range(1, 256));
  return [options] { return runView(*options); };
}

}  // namespace petalproof
