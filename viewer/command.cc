#include "viewer/command.h"

#include "viewer/check_command.h"
#include "viewer/fill_command.h"
#include "viewer/new_command.h"
#include "viewer/tables_command.h"
#include "viewer/view_command.h"

#include <array>

namespace petalproof {

std::span<const Command> allCommands() {
  static constexpr std::array commands{
      Command{"view", "Open the window, on a plan or on the page to start from (also: no command)",
              &setUpView},
      Command{"new", "Write a commented plan to start from", &setUpNew},
      Command{"tables", "Write a plan back as the two tables of a spreadsheet", &setUpTables},
      Command{"check", "Find the bare board and seams that each shot of a plan sees", &setUpCheck},
      Command{"fill", "Find the fewest filler blooms that hide what shows, and where each goes", &setUpFill},
  };
  return commands;
}

}  // namespace petalproof
