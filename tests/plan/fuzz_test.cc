// Plans and grids with seeded random damage: always an answer, never a crash, and never a plan together
// with problems.
#include "engine/base/file.h"
#include "engine/plan/internal/grid_from_csv.h"
#include "engine/plan/read_plan.h"
#include "engine/plan/starter_plan.h"
#include "engine/plan/write_plan.h"
#include "tests/plan/generated_plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <random>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;

namespace {

constexpr std::array<const char*, 40> tokens = {"[",
                                                "]",
                                                "{",
                                                "}",
                                                "\"",
                                                "\"\"\"",
                                                "'",
                                                "'''",
                                                "=",
                                                ",",
                                                ".",
                                                "#",
                                                "\n",
                                                "\r\n",
                                                "\r",
                                                "\\",
                                                "nan",
                                                "inf",
                                                "-",
                                                "1e999",
                                                "0x",
                                                "true",
                                                "\xff",
                                                "\xe2\x82",
                                                "\xef\xbb\xbf",
                                                "[[",
                                                "]]",
                                                "[wall]",
                                                "[[bloom]]",
                                                "[[shot]]\n",
                                                "1979-05-27T07:32:00Z",
                                                "99999999999999999999",
                                                ";",
                                                "\t",
                                                "sep=",
                                                "upside down",
                                                "\"\"",
                                                "e",
                                                "_",
                                                "+"};

class Damage {
 public:
  explicit Damage(std::uint64_t seed) : random_(seed) {}

  std::string done(std::string text) {
    for (std::size_t k = 1 + below(4); k > 0; --k) once(text);
    return text;
  }

 private:
  std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random_() % n); }

  void once(std::string& text) {
    const std::size_t at = below(text.size());
    const std::size_t size = below(20);
    switch (below(6)) {
      case 0: text.insert(at, tokens[below(tokens.size())]); break;
      case 1: text.erase(at, size); break;
      case 2:
        if (!text.empty()) text[at] = static_cast<char>(random_());
        break;
      case 3: text.insert(below(text.size()), text.substr(at, size)); break;
      case 4: text.resize(at); break;
      default: text.replace(at, std::min(size, text.size() - at), tokens[below(tokens.size())]); break;
    }
  }

  std::mt19937_64 random_;
};

void checkAnswer(const Result<LoadedPlan>& result) {
  CHECK(result.value.has_value() == result.problems.empty());
  for (const Problem& problem : result.problems) CHECK_FALSE(problem.message.empty());
}

}  // namespace

TEST_CASE("damaged plans get an answer") {
  const auto whole =
      readFile(PETALPROOF_SOURCE_DIR "/tests/plan/data/good/everything.toml", 1 << 20, "whole");
  REQUIRE(whole);
  int read = 0;
  for (std::uint64_t seed = 0; seed < 3000; ++seed) {
    CAPTURE(seed);
    std::string text = *whole.value;
    if (seed % 3 == 1) text = writePlan(generatedPlan(seed));
    if (seed % 3 == 2) text = starterPlan({});
    const auto result = readPlan(Damage(seed).done(text), "damaged.toml", {});
    checkAnswer(result);
    if (!result) continue;
    ++read;
    // What was read is a plan like any other: it can be saved and loaded.
    const auto again = readPlan(writePlan(result.value->plan), "again.toml", {});
    REQUIRE(again);
    CHECK((again.value->plan == result.value->plan));
  }
  CHECK(read > 100);  // some damage hits only a remark or a number
  CHECK(read < 2500);
}

TEST_CASE("damaged grids get an answer") {
  const std::string grids[] = {"sun,drift,sun upside down\r\n,\"big, \"\"wild\"\" one\",drift\r\n",
                               "\xef\xbb\xbfsun;drift;sun\nsun;;\n;;;\n\n", "sun\tdrift\n\"a\"\t\"b\"\n"};
  for (std::uint64_t seed = 0; seed < 5000; ++seed) {
    CAPTURE(seed);
    const std::string text = Damage(seed).done(grids[seed % 3]);
    const auto grid = gridFromCsv(text, "damaged.csv", 3, 2);
    CHECK(grid.value.has_value() == grid.problems.empty());
    if (!grid) continue;
    for (const RowText& row : grid.value->rows)
      for (const CellText& cell : row.cells) {
        CHECK(cell.place.line >= 1);
        CHECK(cell.place.column >= 1);
      }
  }
}
