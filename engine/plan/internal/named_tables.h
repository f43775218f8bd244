#pragma once
// The tables of a section that stands several times in a plan, with their names: for the readers of
// [[bloom]],
// [[layout]], [[filler]] and [[shot]].

#include "engine/plan/findings.h"
#include "engine/plan/internal/table_reader.h"

#include <string>
#include <vector>

namespace petalproof::plan {

// The tables of [[key]]; `owner` names one of them in messages ("the bloom").
std::vector<TableReader> tablesOf(const Field& field, const std::string& owner);
// Reads the table's name, takes it into `names` and makes it the table's owner in messages. `kind` is
// "bloom", "layout" or "shot".
std::string readName(TableReader& table, const std::string& kind, Names& names);

}  // namespace petalproof::plan
