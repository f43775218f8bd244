#pragma once
#include "engine/base/problem.h"
#include "engine/tables/tables.h"

#include <string>

namespace petalproof::plan {

// The file as UTF-8 with newlines at its line ends: from UTF-8 or UTF-16 with or without a mark, or else
// Windows-1252 (then a warning says so). Refused where it is no text or a spreadsheet's own file.
Result<std::string> tableText(const tables::TableFile& file);

}  // namespace petalproof::plan
