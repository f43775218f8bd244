// Tables the way people write them, half of them spoiled in some way: each with the exact plan or messages.
#include "tests/tables/summary.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::tables;
namespace fs = std::filesystem;

namespace {

fs::path dataFolder() { return fs::path(PETALPROOF_SOURCE_DIR) / "tests/tables/data"; }

std::vector<std::string> cases() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(dataFolder()))
    if (entry.path().extension() == ".expected") names.push_back(entry.path().stem().string());
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace

TEST_CASE("tables as people write them give the plan or the messages expected") {
  const auto names = cases();
  CHECK(names.size() >= 40);
  for (const std::string& name : names) {
    CAPTURE(name);
    CHECK(summaryOf(planFromTables(inputOf(dataFolder(), name))) ==
          bytesOf(dataFolder() / (name + ".expected")));
  }
}
