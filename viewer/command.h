#pragma once
// A command of the program, and the table of all commands, which main() reads.

#include <functional>
#include <span>
#include <string>
#include <string_view>

namespace CLI {
class App;
}

namespace petalproof {

// The program's exit status.
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

}  // namespace petalproof
