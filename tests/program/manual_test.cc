// The manual is true of the built program: each command and option, each key of the JSON where it belongs,
// and each example.

#include "tests/program/run_program.h"
#include "tests/program/shown_examples.h"
#include "tests/support/manual_pages.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::program;
using namespace petalproof::testing;
namespace fs = std::filesystem;

namespace {

// Names that a help text lists at the beginning of its lines.
std::set<std::string> listedIn(const std::string& help, const std::string& pattern) {
  std::set<std::string> names;
  std::istringstream lines(help);
  const std::regex name(pattern);
  for (std::string line; std::getline(lines, line);) {
    std::smatch found;
    if (std::regex_search(line, found, name)) names.insert(found[1]);
  }
  return names;
}

// The commands, from the last part of the program's own help.
std::set<std::string> commandNames(const fs::path& folder) {
  const std::string help = run({"--help"}, folder).out;
  return listedIn(help.substr(std::min(help.find("Subcommands:"), help.size())), "^  ([a-z]+) ");
}

// The keys of each object of a report, by its path: "" the report itself, then "wall", "shots[].gaps[]".
using ObjectKeys = std::map<std::string, std::set<std::string>>;

void collectKeys(const nlohmann::json& value, const std::string& path, ObjectKeys& found) {
  if (value.is_array())
    for (const auto& each : value) collectKeys(each, path + "[]", found);
  if (!value.is_object()) return;
  for (const auto& [key, below] : value.items()) {
    found[path].insert(key);
    // The check of the filled plan has the keys of a check.
    const bool is_whole_check = path.empty() && key == "after";
    collectKeys(below, is_whole_check ? "" : (path.empty() ? key : path + "." + key), found);
  }
}

void checkKeysAreTold(const ObjectKeys& written) {
  const Blocks page = pageBlocks(manualFolder() / "json.md");
  for (const auto& [path, keys] : written) {
    const Blocks section = sectionOf(page, path.empty() ? "The report" : path, path.empty() ? 3 : 6);
    INFO("assets/manual/json.md, the section with the heading `", path, "`");
    CHECK(!section.empty());
    const std::set<std::string> told = firstColumn(section, "key");
    for (const std::string& key : keys) CHECK_MESSAGE(told.count(key) == 1, key);
  }
}

// Two panels of bare board, the second upside down, with too few buds to hide it.
constexpr const char* bare_plan = R"(format = 1
title = "Bare"
units = "in"
[wall]
columns = 2
rows = 1
panel = [12, 10]
seam = 0.12
board = { ground = "covered" }
grid = [["plain", "plain upside down"]]
[[bloom]]
name = "bud"
shape = "bud"
diameter = 3
colour = "#e8a23d"
filler = true
stock = 2
[[layout]]
name = "plain"
blooms = [{ bloom = "bud", at = [2, 2] }]
[[filler]]
bloom = "bud"
at = [20, 5]
[[shot]]
name = "front"
sensor = "full frame"
megapixels = 0.3
lens = 50
camera = [0, 5, 40]
aim = [0, 5]
people = [{ height = 66, at = [40, 10] }]
)";

}  // namespace

TEST_CASE("every command and every option is in the manual, and no other") {
  const TemporaryFolder folder;
  const Blocks page = pageBlocks(manualFolder() / "commands.md");
  const auto commands = commandNames(folder.path());
  CHECK(commands.size() >= 5);
  for (const std::string& command : commands) {
    CAPTURE(command);
    const Blocks section = sectionOf(page, command, 2);
    CHECK(!section.empty());
    const std::string help = run({command, "--help"}, folder.path()).out;
    std::set<std::string> known = listedIn(help, "^  (--[a-z-]+|[A-Z]+) ");
    CHECK(!known.empty());
    std::set<std::string> told;
    // An option may stand with the name of its value, `--json FILE`.
    for (const std::string& code : firstColumn(section, "option"))
      told.insert(code.substr(0, code.find(' ')));
    for (const std::string& option : known) CHECK_MESSAGE(told.count(option) == 1, option);
    for (const std::string& option : told) CHECK_MESSAGE(known.count(option) == 1, option);
  }
}

TEST_CASE("each key of the JSON stands under the heading of its object") {
  const TemporaryFolder folder;
  const std::string plan = bare_plan;
  write(folder / "bare.toml", plan);
  write(folder / "hands.toml", plan + "[hands]\n");
  REQUIRE(run({"check", "hands.toml", "--advice", "--builds", "3", "--json", "check.json", "--quiet"},
              folder.path())
              .status == 0);
  REQUIRE(
      run({"fill", "hands.toml", "--json", "fill.json", "--walls", "1/2", "--quiet"}, folder.path()).status ==
      1);
  ObjectKeys written;
  for (const char* file : {"check.json", "fill.json"})
    collectKeys(nlohmann::json::parse(textOf(folder / file)), "", written);
  for (const char* path :
       {"wall", "builds", "shots[].builds", "shots[].gaps[]", "advice.shots[]", "advice.boards[].of_showing",
        "fillers[]", "kept[]", "left[]", "totals[]", "hands"})
    CHECK_MESSAGE(written.count(path) == 1, path);
  checkKeysAreTold(written);
}

TEST_CASE("what the manual shows of the JSON has the keys that are told below it") {
  Blocks section;
  int seen = 0;
  for (const MarkdownBlock& block : pageBlocks(manualFolder() / "json.md")) {
    if (block.kind == MarkdownKind::heading) section.clear();
    section.push_back(block);
    if (block.kind != MarkdownKind::table) continue;
    const auto code = std::find_if(section.begin(), section.end(),
                                   [](const MarkdownBlock& each) { return each.info == "json"; });
    REQUIRE(code != section.end());
    const std::set<std::string> told = firstColumn(section, "key");
    const auto example = nlohmann::json::parse(code->code);
    for (const auto& [key, value] : example.items()) CHECK_MESSAGE(told.count(key) == 1, key);
    ++seen;
  }
  CHECK(seen > 15);
}

TEST_CASE("each example of the README and the manual works") {
  std::vector<fs::path> files = manualFiles();
  files.insert(files.begin(), fs::path(PETALPROOF_SOURCE_DIR) / "README.md");
  for (const fs::path& file : files) {
    const Blocks page = pageBlocks(file);
    ExampleFolder folder;
    for (const MarkdownBlock& block : page) {
      if (block.kind != MarkdownKind::code) continue;
      INFO(file.filename().string(), ":\n", block.code);
      CHECK(folder.whyNot(block.info, block.code) == "");
    }
  }
}

TEST_CASE("an example that doesn't work is found") {
  ExampleFolder folder;
  CHECK(folder.whyNot("toml", "[hands]\nplace = 1\n") == "");
  CHECK(folder.whyNot("toml", "[hands]\nplaice = 1\n").find("plaice") != std::string::npos);
  CHECK(folder.whyNot("sh", "petalproof check nowhere.toml   # exit status 2\n") == "");
  CHECK(folder.whyNot("sh", "petalproof check nowhere.toml\n") != "");
  CHECK(folder.whyNot("sh", "petalproof --nonsense\n") != "");
  CHECK(folder.whyNot("sh", "rm -r wall\n") != "");
  CHECK(folder.whyNot("json", "{ \"a\": }") != "");
  CHECK(folder.whyNot("yaml", "a: 1") != "");
}
