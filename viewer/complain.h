#pragma once
// What a command says on stderr when something is wrong.

#include "engine/base/problem.h"
#include "viewer/command.h"

#include <string>
#include <vector>

namespace petalproof {

// One a line, each after the prefix.
void print(const std::vector<Problem>& problems, const char* prefix = "");

// Says the message and returns the status; complainByName: after the program's name, where the message is
// about what it was called with.
ExitStatus complain(const std::string& message, ExitStatus status);
ExitStatus complainByName(const std::string& message, ExitStatus status);

}  // namespace petalproof
