#pragma once
// What came of filling a wall, in sentences.

#include "engine/fill/fill.h"
#include "engine/report/fill_json.h"

#include <string>

namespace petalproof::report {

// "17 fillers; no placement hides the same with fewer than 14." and its cousins.
std::string countWords(const fill::FillResult& result);
// "With them no hole shows or is faint in any of the 5 shots.", or how much is left.
std::string proofWords(const fill::FillResult& result);
// What imperfect hands make of it; empty where they are perfect.
std::string handsWords(const fill::FillResult& result);

// "panel B1", "seam B1|C1", "crossing B1+C2".
std::string sitsOnWords(const std::string& over);
// The bloom's label, else its name.
std::string kindWords(const plan::Plan& plan, int kind);
// "2 h 10 min".
std::string minutesText(double minutes);

}  // namespace petalproof::report
