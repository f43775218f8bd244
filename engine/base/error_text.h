#pragma once
// Words for the numbers by which the system says why a call failed.

#include <string>

namespace petalproof {

// "the disk is full" for ENOSPC.
std::string errorText(int error);

}  // namespace petalproof
