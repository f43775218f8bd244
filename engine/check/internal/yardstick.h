#pragma once
// The pieces of paper that a shot's holes are held against.

#include "engine/reading/oddity.h"

#include <memory>
#include <string>

namespace petalproof::check {

// A picture with fewer pieces says little about its paper: then those of the plan's other shots count too,
// and if they are still too few those of the wall seen head-on.
constexpr std::size_t enough_pieces = 50;

struct Yardstick {
  std::shared_ptr<const reading::Oddity> pieces;
  std::string remark;  // where the picture's own pieces are too few: what was done about it
};

}  // namespace petalproof::check
