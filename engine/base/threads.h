#pragma once

namespace petalproof {

// How many threads to use where `asked` are wanted (0: all there are): never more than the machine has,
// at least one.
int usableThreads(int asked);

}  // namespace petalproof
