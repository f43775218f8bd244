#pragma once
// Decodes a CSV file's bytes to UTF-8 text. The readers of a plan's grid and of a maker's tables call this
// first.

#include "engine/base/problem.h"

#include <string>

namespace petalproof::plan {

// A CSV file: commas, semicolons or tabs; UTF-8, UTF-16 or Windows-1252.
struct TableFile {
  std::string name;  // as problems call it
  std::string bytes;
};

// The file as UTF-8 with newlines as line ends. Reads UTF-8 and UTF-16, with or without a byte order mark,
// and any other bytes as Windows-1252 (with a warning). Refuses bytes that are no text and a spreadsheet's
// own file.
Result<std::string> tableText(const TableFile& file);

}  // namespace petalproof::plan
