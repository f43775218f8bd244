#include "tests/program/run_program.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include <filesystem>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::program;

namespace {

// Two covered panels: only the seam between them is bare. What may fill it stands at the end of the line.
std::string seamPlan(const std::string& bud_keys) {
  return "format = 1\n"
         "title = \"One seam\"\n"
         "units = \"in\"\n"
         "[wall] # covered\n"
         "columns = 2\n"
         "rows = 1\n"
         "panel = [12, 10]\n"
         "seam = 0.12\n"
         "board = { colour = \"#ffffff\", ground = \"covered\" }\n"
         "grid = [[\"plain\", \"plain\"]]\n"
         "[[bloom]]\n"
         "name = \"bud\" # the only one\n"
         "shape = \"bud\"\n"
         "diameter = 3\n"
         "colour = [\"#e8a23d\", \"#b5382a\"]\n"
         "sheets = 0.5\n"
         "minutes = 10\n" +
         bud_keys +
         "[[layout]]\n"
         "name = \"plain\"\n"
         "blooms = []\n"
         "[[shot]]\n"
         "name = \"front\"\n"
         "sensor = \"full frame\"\n"
         "megapixels = 1\n"
         "lens = 50\n"
         "camera = [0, 5, 30]\n"
         "aim = [0, 5]\n"
         "# the end\n";
}

nlohmann::json jsonOf(const std::filesystem::path& file) { return nlohmann::json::parse(textOf(file)); }

int noticed(const nlohmann::json& check) {
  int count = 0;
  for (const auto& shot : check["shots"])
    for (const auto& gap : shot["gaps"]) count += gap["reads"] != "lost" ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("a filled plan keeps its text, checks clean, and takes no more fillers") {
  const TemporaryFolder folder;
  const std::string text = seamPlan("filler = true\n");
  write(folder / "seam.toml", text);
  const Outcome filled =
      run({"fill", "seam.toml", "--out", "filled.toml", "--json", "fill.json", "--pictures", "pictures"},
          folder.path());
  INFO(filled.out);
  INFO(filled.err);
  REQUIRE(filled.status == 0);
  CHECK(filled.err.empty());
  const auto json = jsonOf(folder / "fill.json");
  const auto count = json["count"].get<std::size_t>();
  CHECK(count >= 2);  // a seam of 10 in, buds of 3 in
  CHECK(count <= 6);
  CHECK(json["fillers"].size() == count);
  CHECK(json["at_least"].get<std::size_t>() >= 2);
  CHECK(json["at_least"].get<std::size_t>() <= count);
  CHECK(json["left"].empty());
  CHECK(noticed(json) > 0);
  CHECK(noticed(json["after"]) == 0);
  CHECK(json["fillers"][0]["over"] == "A1|B1");
  CHECK(json["fillers"][0]["when"] == "after taping");
  CHECK(filled.out.find(std::to_string(count) + " fillers") != std::string::npos);
  CHECK(textOf(folder / "filled.toml").starts_with(text));
  for (const char* picture : {"1-front-before.png", "1-front-filled.png", "wall-map.png"})
    CHECK(std::filesystem::file_size(folder / "pictures" / picture) > 10'000);

  // The proof is the check of the plan that was written.
  CHECK(run({"check", "filled.toml", "--json", "check.json", "--quiet"}, folder.path()).status == 0);
  auto after = json["after"];
  after["plan"] = "filled.toml";
  CHECK(jsonOf(folder / "check.json") == after);

  const Outcome again =
      run({"fill", "filled.toml", "--out", "again.toml", "--json", "again.json"}, folder.path());
  CHECK(again.status == 0);
  CHECK(jsonOf(folder / "again.json")["count"] == 0);
  CHECK(again.out.find("No more fillers are needed") != std::string::npos);
  CHECK(textOf(folder / "again.toml") == textOf(folder / "filled.toml"));
}

TEST_CASE("the same plan is filled alike by any number of threads") {
  const TemporaryFolder folder;
  write(folder / "seam.toml", seamPlan("filler = true\n"));
  REQUIRE(run({"fill", "seam.toml", "--json", "one.json", "--threads", "1", "--walls", "0"}, folder.path())
              .status == 0);
  REQUIRE(run({"fill", "seam.toml", "--json", "four.json", "--threads", "4"}, folder.path()).status == 0);
  CHECK(textOf(folder / "one.json") == textOf(folder / "four.json"));
}

TEST_CASE("what can't be filled is left, said, and is exit status 1") {
  const TemporaryFolder folder;
  write(folder / "none.toml", seamPlan(""));
  const Outcome none = run({"fill", "none.toml", "--json", "none.json"}, folder.path());
  CHECK(none.status == 1);
  CHECK(none.out.find("Left, and why") != std::string::npos);
  CHECK(jsonOf(folder / "none.json")["count"] == 0);
  CHECK_FALSE(jsonOf(folder / "none.json")["left"].empty());
  write(folder / "few.toml", seamPlan("filler = true\nstock = 1\n"));
  const Outcome few = run({"fill", "few.toml", "--json", "few.json"}, folder.path());
  CHECK(few.status == 1);
  CHECK(jsonOf(folder / "few.json")["count"] <= 1);
  CHECK(few.out.find("stock") != std::string::npos);
}

TEST_CASE("fill says what is wrong with its options and overwrites nobody's file") {
  const TemporaryFolder folder;
  write(folder / "seam.toml", seamPlan("filler = true\n"));
  write(folder / "mine.toml", "mine");
  const auto refused = [&](const std::vector<std::string>& options, const std::string& words) {
    std::vector<std::string> arguments{"fill", "seam.toml"};
    arguments.insert(arguments.end(), options.begin(), options.end());
    const Outcome outcome = run(arguments, folder.path());
    CAPTURE(words);
    CHECK(outcome.status == 2);
    CHECK(outcome.out.empty());
    CHECK(outcome.err.find(words) != std::string::npos);
  };
  refused({"--out", "mine.toml"}, "mine.toml: exists already; name a new file");
  refused({"--out", "seam.toml"}, "seam.toml: exists already; name a new file");
  refused({"--json", "mine.toml"}, "is not a report of petalproof");
  refused({"--walls", "20/20"}, "--walls takes how many walls of how many");
  refused({"--walls", "most"}, "--walls takes");
  refused({"--spares", "15"}, "--spares takes per cent");
  refused({"--hide", "some"}, "some");
  refused({"--shot", "frond", "--out", "new.toml"}, "did you mean \"front\"?");
  CHECK(textOf(folder / "mine.toml") == "mine");
  CHECK_FALSE(std::filesystem::exists(folder / "new.toml"));
}

TEST_CASE("nobody may read a filled plan who couldn't read the plan") {
  namespace fs = std::filesystem;
  const TemporaryFolder folder;
  write(folder / "seam.toml", seamPlan("filler = true\n"));
  constexpr auto secret = fs::perms::owner_read | fs::perms::owner_write;
  fs::permissions(folder / "seam.toml", secret);
  run({"fill", "seam.toml", "--walls", "0", "--out", "filled.toml", "--quiet"}, folder.path());
  CHECK(fs::status(folder / "filled.toml").permissions() == secret);
  // Of a plan that everybody may read the copy is as any new file.
  fs::permissions(folder / "seam.toml", secret | fs::perms::group_read | fs::perms::others_read);
  write(folder / "any", "");
  run({"fill", "seam.toml", "--walls", "0", "--out", "open.toml", "--quiet"}, folder.path());
  CHECK(fs::status(folder / "open.toml").permissions() == fs::status(folder / "any").permissions());
}
