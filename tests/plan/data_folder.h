#pragma once

#include <filesystem>

namespace petalproof::testing {

inline const std::filesystem::path data = std::filesystem::path(PETALPROOF_SOURCE_DIR) / "tests/plan/data";

}  // namespace petalproof::testing
