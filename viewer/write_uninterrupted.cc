#include "viewer/write_uninterrupted.h"

#include "viewer/interrupt.h"
#include "viewer/write_outputs.h"

namespace petalproof {

std::optional<std::string> writeUninterrupted(std::span<const Output> outputs) {
  if (outputs.empty()) return std::nullopt;
  const WritingWatch watch;
  WriteOptions options;
  options.go_on = [&watch] { watch.endIfAsked(); };
  return writeOutputs(outputs, options);
}

}  // namespace petalproof
