// README and manual are whole: short enough, linked, with an example before each table, in the program, and
// with every key of plans and reports.

#include "engine/plan/read_plan.h"
#include "tests/repository/source_files.h"
#include "tests/support/manual_pages.h"
#include "viewer/window/manual_texts.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::repository;
using namespace petalproof::testing;
namespace fs = std::filesystem;

namespace {

std::vector<fs::path> readmeAndManual() {
  std::vector<fs::path> files = manualFiles();
  files.insert(files.begin(), sourceRoot() / "README.md");
  return files;
}

// Of all links and pictures on a page.
std::vector<std::string> linkTargets(const Blocks& page) {
  std::vector<std::string> targets;
  const auto add = [&](const window::MarkdownLine& line) {
    for (const window::MarkdownSpan& span : line)
      if (!span.link.empty()) targets.push_back(span.link);
  };
  for (const MarkdownBlock& block : page) {
    add(block.line);
    for (const auto& row : block.table)
      for (const auto& cell : row) add(cell);
  }
  return targets;
}

bool hasHeading(const Blocks& page, const std::string& anchor) {
  return std::any_of(page.begin(), page.end(), [&](const MarkdownBlock& block) {
    return block.kind == MarkdownKind::heading &&
           window::headingAnchor(window::plainText(block.line)) == anchor;
  });
}

// A block of code, or a sentence that says it is an example.
bool isExample(const MarkdownBlock& block) {
  return block.kind == MarkdownKind::code ||
         window::plainText(block.line).find("For example, ") != std::string::npos;
}

// A key that no table of a plan has, and that is like none.
const std::string stray = "qqzzqqzzqq";

// The keys of one table of a plan, from the message that its reader gives to a stray one.
std::vector<std::string> keysTaken(const std::string& plan_text) {
  const auto read = readPlan(plan_text, "stray.toml", ".");
  const std::regex pattern("has an unknown key \"" + stray + "\"; it takes ([a-z_, ]+)$");
  std::vector<std::string> keys;
  for (const Problem& problem : read.problems) {
    std::smatch found;
    if (!std::regex_search(problem.message, found, pattern)) continue;
    const std::string list = found[1].str();
    const std::regex word("[a-z_]+");
    for (std::sregex_iterator it(list.begin(), list.end(), word), end; it != end; ++it)
      keys.push_back(it->str());
  }
  return keys;
}

// Puts the lines of a table where they belong in a plan.
using Wrapper = std::function<std::string(const std::string& inner)>;

// Keys by the table that has them: "" is the plan itself, then "wall", "wall.board", "layout.blooms".
using PlanKeys = std::map<std::string, std::set<std::string>>;

void findKeys(const std::string& path, const Wrapper& wrap, PlanKeys& found) {
  for (const std::string& key : keysTaken(wrap(stray + " = 1"))) {
    found[path].insert(key);
    const std::string below = path.empty() ? key : path + "." + key;
    for (const auto& [open, close] : {std::pair("{ ", " }"), std::pair("[{ ", " }]")}) {
      const Wrapper inner = [&wrap, key = key, open = std::string(open), close = std::string(close)](
                                const std::string& text) { return wrap(key + " = " + open + text + close); };
      if (!keysTaken(inner(stray + " = 1")).empty()) findKeys(below, inner, found);
    }
  }
}

PlanKeys planKeys() {
  PlanKeys found;
  findKeys(
      "", [](const std::string& inner) { return "format = 1\n" + inner + "\n"; }, found);
  return found;
}

// Where the manual's page lists the keys of a table of a plan.
Blocks planSection(const Blocks& page, const std::string& table) {
  if (table.empty()) return sectionOf(page, "The first lines", 2);
  const std::string section = table.substr(0, table.find('.'));
  Blocks blocks = sectionOf(page, "[" + section + "]", 2);
  return blocks.empty() ? sectionOf(page, "[[" + section + "]]", 2) : blocks;
}

std::set<std::string> wordsIn(const std::set<std::string>& texts) {
  std::set<std::string> words;
  const std::regex word("[a-z_]+");
  for (const std::string& text : texts)
    for (std::sregex_iterator it(text.begin(), text.end(), word), end; it != end; ++it)
      words.insert(it->str());
  return words;
}

std::string joined(const std::set<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += name + " ";
  return text;
}

}  // namespace

TEST_CASE("the README can be read in five minutes") {
  const std::string text = textOf(sourceRoot() / "README.md");
  CHECK(std::count(text.begin(), text.end(), '\n') <= 170);
}

TEST_CASE("links on the README and in the manual lead to files and headings") {
  int seen = 0;
  for (const fs::path& file : readmeAndManual()) {
    const Blocks page = pageBlocks(file);
    for (const std::string& target : linkTargets(page)) {
      INFO(file.filename().string(), " links to ", target);
      const std::size_t hash = std::min(target.find('#'), target.size());
      const fs::path to = hash == 0 ? file : file.parent_path() / target.substr(0, hash);
      CHECK(fs::exists(to));
      if (hash < target.size()) CHECK(hasHeading(pageBlocks(to), target.substr(hash + 1)));
      ++seen;
    }
  }
  CHECK(seen > 20);
}

TEST_CASE("every page of the manual is in the program and linked from the README") {
  const auto shown = window::manualTexts();
  const auto files = manualFiles();
  CHECK(shown.size() == files.size());
  const auto targets = linkTargets(pageBlocks(sourceRoot() / "README.md"));
  for (const window::ManualText& text : shown) {
    CAPTURE(text.file);
    const std::string file(text.file);
    CHECK(textOf(manualFolder() / file) == text.text);
    CHECK(std::find(targets.begin(), targets.end(), "assets/manual/" + file) != targets.end());
    const Blocks page = window::parseMarkdown(text.text);
    REQUIRE(!page.empty());
    CHECK(page.front().kind == MarkdownKind::heading);
    CHECK(page.front().level == 1);
  }
}

TEST_CASE("an example stands before each table of the manual") {
  int seen = 0;
  for (const fs::path& file : manualFiles()) {
    bool example = false;
    std::string heading;
    for (const MarkdownBlock& block : pageBlocks(file)) {
      if (block.kind == MarkdownKind::heading) {
        example = false;
        heading = window::plainText(block.line);
      }
      example = example || isExample(block);
      if (block.kind != MarkdownKind::table) continue;
      INFO(file.filename().string(), ", ", heading);
      CHECK(example);
      ++seen;
    }
  }
  CHECK(seen > 30);
}

TEST_CASE("the plan that the manual shows is the one in the repository") {
  const Blocks blocks = sectionOf(pageBlocks(manualFolder() / "plan-file.md"), "A whole plan", 2);
  const auto code = std::find_if(blocks.begin(), blocks.end(),
                                 [](const MarkdownBlock& block) { return block.kind == MarkdownKind::code; });
  REQUIRE(code != blocks.end());
  CHECK(code->code == textOf(sourceRoot() / "assets/plans/tiny.toml"));
}

TEST_CASE("every key of a plan is in the manual, and no other") {
  const PlanKeys known = planKeys();
  REQUIRE(known.count("wall.board") == 1);
  REQUIRE(known.count("bloom.card") == 1);
  REQUIRE(known.count("layout.blooms") == 1);
  REQUIRE(known.count("shot.looked_at") == 1);
  CHECK(known.at("").size() > 8);
  const Blocks page = pageBlocks(manualFolder() / "plan-file.md");
  std::map<std::string, std::set<std::string>> known_in;  // by section, with the tables within
  for (const auto& [table, keys] : known) {
    const Blocks section = planSection(page, table);
    INFO("the section for ", table);
    CHECK(!section.empty());
    known_in[table.substr(0, table.find('.'))].insert(keys.begin(), keys.end());
    std::set<std::string> listed = firstColumn(section, "key");
    // The table of ways to look at a picture has whole values in its first column.
    if (table == "shot.looked_at") listed = wordsIn(firstColumn(section, "looked_at"));
    for (const std::string& key : keys) CHECK_MESSAGE(listed.count(key) == 1, key);
  }
  for (const auto& [section, keys] : known_in)
    for (const std::string& key : firstColumn(planSection(page, section), "key")) {
      INFO("known: ", joined(keys));
      CHECK_MESSAGE(keys.count(key) == 1, key);
    }
}

TEST_CASE("every key of the JSON is in the manual, and no other") {
  std::set<std::string> written;
  // As {"key", value} or object["key"] = value.
  const std::regex key(R"key([{\[]"([a-z_0-9]+)"[,\]])key");
  for (const auto& file : filesBelow("engine", {".cc"})) {
    if (file.filename().string().find("json") == std::string::npos) continue;
    const std::string text = textOf(file);
    for (std::sregex_iterator it(text.begin(), text.end(), key), end; it != end; ++it)
      written.insert((*it)[1]);
  }
  CHECK(written.size() > 60);
  const std::set<std::string> told = firstColumn(pageBlocks(manualFolder() / "json.md"), "key");
  for (const std::string& name : written) CHECK_MESSAGE(told.count(name) == 1, name);
  for (const std::string& name : told) CHECK_MESSAGE(written.count(name) == 1, name);
}
