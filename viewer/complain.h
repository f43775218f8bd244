#pragma once
// What a command says: its answer on stdout, on stderr what is wrong.

#include "engine/base/problem.h"
#include "viewer/command.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof {

constexpr std::size_t most_printed_problems = 100;

// One a line, each after the prefix; after 100 of them how many others there are.
void print(const std::vector<Problem>& problems, const char* prefix = "");

// Says the message and returns the status; complainByName: after the program's name, where the message is
// about what it was called with.
ExitStatus complain(const std::string& message, ExitStatus status);
ExitStatus complainByName(const std::string& message, ExitStatus status);

// On stderr. That nobody can be told isn't told.
void sayToErrors(std::string_view text);

// On stdout. Throws Undelivered where that can't be written to.
void say(std::string_view text);

struct Undelivered {
  int error = 0;  // as errno; 0: not known
};

// Writes what is left of the answer. Throws Undelivered where not all of it could be written.
void deliver();

}  // namespace petalproof
