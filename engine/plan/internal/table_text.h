#pragma once
#include "engine/base/problem.h"
#include "engine/plan/tables.h"

#include <string>

namespace petalproof {

// The file as UTF-8 with newlines at its line ends: from UTF-8 or UTF-16 with or without a mark, or else
// Windows-1252 (then a warning says so). Refused where it is no text or a spreadsheet's own file.
Result<std::string> tableText(const TableFile& file);

}  // namespace petalproof
