#pragma once
// The program's commands: a name, a line of help, and what sets the command up.

#include <CLI/App.hpp>

#include <functional>
#include <span>
#include <string>
#include <string_view>

namespace petalproof {

// What the program ends with.
enum class ExitStatus : int {
  done = 0,
  found = 1,        // check --strict found a gap that shows, or fill had to leave one
  input_wrong = 2,  // problems on stderr, nothing written
  failed = 3,       // the work itself failed
};

using Action = std::function<ExitStatus()>;

struct Command {
  std::string_view name;
  std::string_view help;
  // Adds the command's options to `app` and returns what running it does.
  Action (*setUp)(CLI::App& app);
};

std::span<const Command> allCommands();

Action setUpCheck(CLI::App& app);
Action setUpFill(CLI::App& app);
Action setUpNew(CLI::App& app);
Action setUpTables(CLI::App& app);
Action setUpView(CLI::App& app);

}  // namespace petalproof
