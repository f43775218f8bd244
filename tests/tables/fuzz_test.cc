// Damaged tables: never a crash, never a hang, always either a plan or problems.
#include "engine/tables/tables.h"
#include "engine/tables/tables_text.h"
#include "engine/tables/write_tables.h"
#include "tests/tables/made_plan.h"
#include "tests/tables/summary.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <random>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::tables;
namespace fs = std::filesystem;

namespace {

std::vector<std::string> allTables() {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(fs::path(PETALPROOF_SOURCE_DIR) / "tests/tables/data"))
    if (entry.path().extension() == ".csv") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  std::vector<std::string> tables;
  for (const fs::path& file : files) tables.push_back(bytesOf(file));
  return tables;
}

class Damager {
 public:
  explicit Damager(std::uint64_t seed) : random_(seed) {}

  std::string damaged(std::string bytes, const std::vector<std::string>& others) {
    for (std::size_t k = 1 + below(8); k > 0; --k) damage(bytes, others);
    return bytes;
  }

  std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }

 private:
  void damage(std::string& bytes, const std::vector<std::string>& others) {
    static constexpr std::string_view marks = ",;\t\"\r\n\0\xff\xfe'/-.#= \x80";
    const std::size_t at = below(bytes.size() + 1);
    switch (below(6)) {
      case 0: bytes.insert(at, 1, static_cast<char>(below(256))); break;
      case 1: bytes.insert(at, 1, marks[below(marks.size())]); break;
      case 2: bytes.erase(at, below(20)); break;
      case 3: bytes.insert(at, bytes.substr(below(bytes.size() + 1), below(200))); break;
      case 4: {
        const std::string& other = others[below(others.size())];
        bytes.insert(at, other.substr(below(other.size() + 1), below(200)));
        break;
      }
      default:
        if (at < bytes.size()) bytes[at] = static_cast<char>(below(256));
    }
  }

  std::mt19937_64 random_;
};

// The sanitizers make each allocation slow.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr int shorter = 10;
#else
constexpr int shorter = 1;
#endif

void checkEither(const Result<TablesPlan>& made) {
  CHECK(made.value.has_value() == made.problems.empty());
  if (!made) return;
  const ArrangeRequest& request = made.value->request;
  CHECK(request.wall.grid.columns() == request.wall.columns);
  for (const KindCount& count : request.counts) {
    CHECK(count.on_wall >= 0);
    CHECK(std::any_of(request.blooms.begin(), request.blooms.end(),
                      [&](const Bloom& bloom) { return bloom.name == count.bloom; }));
  }
  for (const Bloom& bloom : request.blooms) {
    CHECK(bloom.diameter.value > 0);
    CHECK_FALSE(bloom.colours.empty());
  }
  CHECK_FALSE(planText(planWith(*made.value, request.wall.grid, {}), made.value->guesses).empty());
  CHECK_FALSE(guessLines(made.value->guesses).empty());
}

}  // namespace

TEST_CASE("damaged tables give a plan or problems") {
  const auto tables = allTables();
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    CAPTURE(seed);
    Damager damager(seed);
    TablesInput input;
    if (seed % 3 != 0)
      input.grid = TableFile{"grid.csv", damager.damaged(tables[damager.below(tables.size())], tables)};
    input.blooms = TableFile{"blooms.csv", damager.damaged(tables[damager.below(tables.size())], tables)};
    checkEither(planFromTables(input));
  }
}

TEST_CASE("large and hostile tables are answered soon") {
  const auto start = std::chrono::steady_clock::now();
  std::string wide = "Flower,Size,Qty";
  for (int k = 0; k < 200'000 / shorter; ++k) wide += ",Flowr Quanity Diamter";
  std::string long_one = "Flower,Size,Qty,Colour\n";
  for (int k = 0; k < 100'000 / shorter; ++k) long_one += "Dahlia,4-Mar,many,corel red ombre blush\n";
  const std::vector<std::string> hostile{wide,
                                         long_one,
                                         std::string(2'000'000 / shorter, '"'),
                                         std::string(2'000'000 / shorter, ','),
                                         std::string(2'000'000 / shorter, '\n'),
                                         std::string(2'000'000 / shorter, 'a'),
                                         "Flower,Size\n" + std::string(100'000 / shorter, ' ') + "x,1"};
  for (const std::string& bytes : hostile) {
    TablesInput input;
    input.grid = TableFile{"grid.csv", bytes};
    input.blooms = TableFile{"blooms.csv", bytes};
    CHECK_FALSE(planFromTables(input));
  }
  TablesInput too_large;
  too_large.blooms = TableFile{"blooms.csv", std::string((std::size_t{16} << 20) + 1, 'a')};
  CHECK(toString(planFromTables(too_large).problems.front()) ==
        "blooms.csv: is larger than the limit of 16 MiB");
  // Generous: a busy machine slows it down by a lot.
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(120));
}
