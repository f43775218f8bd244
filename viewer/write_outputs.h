#pragma once
// Writes a command's outputs: all of them, or none.

#include "viewer/output.h"

#include "engine/base/draft.h"

#include <functional>
#include <optional>
#include <span>
#include <string>

namespace petalproof {

struct WriteOptions {
  FileCalls calls = systemCalls();
  // Called between parts of the writing; an exception from it ends the writing and leaves everything as it
  // was.
  std::function<void()> go_on = {};
};

// Writes all outputs or none: first to the disk under other names, then into their places. Returns what went
// wrong, the file first; then everything is as it was, but for bytes that a device or a pipe has taken.
std::optional<std::string> writeOutputs(std::span<const Output> outputs, const WriteOptions& options = {});

}  // namespace petalproof
