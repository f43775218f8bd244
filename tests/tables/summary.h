#pragma once
// A plan from tables as text, to compare with what is expected.

#include "engine/tables/tables.h"

#include <filesystem>
#include <string>

namespace petalproof {

// The value in lines, or the problems; then what was remarked and guessed.
std::string summaryOf(const Result<tables::TablesPlan>& made);

// A case of tests/tables/data: NAME.blooms.csv, NAME.grid.csv, NAME.options ("panel=24x20"), each if it is
// there.
tables::TablesInput inputOf(const std::filesystem::path& folder, const std::string& name);

std::string bytesOf(const std::filesystem::path& file);
// Makes the folders too.
void writeBytes(const std::filesystem::path& file, const std::string& bytes);

}  // namespace petalproof
