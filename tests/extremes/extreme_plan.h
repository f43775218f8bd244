#pragma once
// Valid plans that nobody would make: each number at an end of what a plan may say, or near where something
// divides by it.

#include <cstdint>
#include <filesystem>
#include <string>

namespace petalproof::testing {

// The text of a plan that the reader takes; the same for the same seed. Its meshes are in `folder`:
// "lotus.obj".
std::string extremePlan(std::uint64_t seed, const std::filesystem::path& folder);

}  // namespace petalproof::testing
