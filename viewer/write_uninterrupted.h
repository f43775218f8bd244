#pragma once
// Writes a command's outputs in a way that signals can't leave half done. Every command that writes calls it.

#include "viewer/output.h"

#include <optional>
#include <span>
#include <string>

namespace petalproof {

// As writeOutputs(); a signal that comes meanwhile ends the writing and leaves everything as it was.
std::optional<std::string> writeUninterrupted(std::span<const Output> outputs);

}  // namespace petalproof
