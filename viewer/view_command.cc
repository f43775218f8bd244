#include "viewer/view_command.h"

#include "viewer/complain.h"
#include "viewer/window/window.h"

#include <CLI/App.hpp>

#include <memory>

namespace petalproof {
namespace {

ExitStatus runView(const window::WindowOptions& options) {
  const auto wrong = window::runWindow(options);
  return wrong ? complainByName(*wrong, ExitStatus::failed) : ExitStatus::done;
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
