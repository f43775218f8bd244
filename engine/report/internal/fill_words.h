#pragma once
// Tells the outcome of a filling in sentences, for the list and the map.

#include "engine/fill/fill.h"
#include "engine/report/fill_json.h"

#include <string>

namespace petalproof::report {

// "17 fillers; no placement hides the same with fewer than 14.", or the sentence for no filler or a single
// filler.
std::string countWords(const fill::FillResult& result);
// "With them no hole shows or is faint in any of the 5 shots.", or how much is left.
std::string proofWords(const fill::FillResult& result);
// Tells how often walls by imperfect hands are clean; empty for perfect hands.
std::string handsWords(const fill::FillResult& result);

// "panel B1", "seam B1|C1", "crossing B1+C2".
std::string sitsOnWords(const std::string& over);
// The bloom's label, else its name.
std::string kindWords(const plan::Plan& plan, int kind);
// "2 h 10 min".
std::string minutesText(double minutes);

}  // namespace petalproof::report
