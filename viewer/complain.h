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

// Prints the message on stderr and returns the status. complainByName puts the program's name before the
// message, for messages about the command line itself.
ExitStatus complain(const std::string& message, ExitStatus status);
ExitStatus complainByName(const std::string& message, ExitStatus status);

// Prints the text on stderr. A text that stderr can't take is dropped: nobody is left to tell.
void sayToErrors(std::string_view text);

// Prints the text on stdout. Throws Undelivered where stdout can't be written to.
void say(std::string_view text);

// Thrown where a part of the command's answer couldn't be written.
struct Undelivered {
  int error = 0;  // as errno; 0: not known
};

// Writes the part of the answer that is still in stdout's buffer. Throws Undelivered where that fails.
void deliver();

}  // namespace petalproof
