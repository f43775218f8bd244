#pragma once
#include "engine/base/problem.h"

#include <string>

namespace petalproof::plan {

// A CSV file: commas, semicolons or tabs; UTF-8, UTF-16 or Windows-1252.
struct TableFile {
  std::string name;  // as problems call it
  std::string bytes;
};

// The file as UTF-8 with newlines at its line ends: from UTF-8 or UTF-16 with or without a mark, or else
// Windows-1252 (then a warning says so). Refused where it is no text or a spreadsheet's own file.
Result<std::string> tableText(const TableFile& file);

}  // namespace petalproof::plan
