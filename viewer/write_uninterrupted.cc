#include "viewer/write_uninterrupted.h"

#include "viewer/interrupt.h"

namespace petalproof {

std::optional<std::string> writeUninterrupted(std::span<const Output> outputs) {
  if (outputs.empty()) return std::nullopt;
  const WritingWatch watch;
  WriteOptions options;
  options.goes_on = [&watch] { return !watch.isAskedToStop(); };
  return writeOutputs(outputs, options);
}

}  // namespace petalproof
