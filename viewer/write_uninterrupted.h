#pragma once
#include "viewer/output.h"

#include <optional>
#include <span>
#include <string>

namespace petalproof {

// writeOutputs(), where a signal that comes meanwhile leaves everything as it was.
std::optional<std::string> writeUninterrupted(std::span<const Output> outputs);

}  // namespace petalproof
