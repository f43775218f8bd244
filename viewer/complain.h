#pragma once
// Output of the commands: a command prints its answer on stdout and its problems on stderr.

#include "engine/base/problem.h"
#include "viewer/command.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof {

constexpr std::size_t most_printed_problems = 100;

// Prints each problem on a line of its own behind the prefix; after 100 problems, the number of the others.
void print(const std::vector<Problem>& problems, const char* prefix = "");

// Says the message and returns the status; complainByName: after the program's name, where the message is
// about what it was called with.
ExitStatus complain(const std::string& message, ExitStatus status);
ExitStatus complainByName(const std::string& message, ExitStatus status);

// On stderr. A message that stderr can't take is dropped: nobody is left to tell.
void sayToErrors(std::string_view text);

// On stdout. Throws Undelivered where that can't be written to.
void say(std::string_view text);

struct Undelivered {
  int error = 0;  // as errno; 0: not known
};

// Writes what is left of the answer. Throws Undelivered where not all of it could be written.
void deliver();

}  // namespace petalproof
