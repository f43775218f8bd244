#pragma once

namespace petalproof::bench {

// How long it takes to fill walls of 30, 120 and 480 panels of the demo's, seen as finely and from the same
// angles, up to `panels` of them; and how that grows with the gaps. Prints.
int timeFilling(int panels);

}  // namespace petalproof::bench
