#include "tests/program/shown_examples.h"

#include <toml++/toml.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <optional>
#include <regex>
#include <sstream>
#include <utility>
#include <vector>

namespace petalproof::program {
namespace fs = std::filesystem;
namespace {

// For a plan whose shots the program would make: those are large.
constexpr const char* small_shot =
    "\n[[shot]]\nname = \"small\"\nsensor = \"full frame\"\nlens = 35\ncamera = [0, \"4 ft\", \"12 ft\"]\n"
    "aim = [0, \"4 ft\"]\n";

std::string withSmallShots(std::string text) {
  if (text.find("[[shot]]") == std::string::npos) text += small_shot;
  text = std::regex_replace(text, std::regex("\n[ \t]*megapixels[ \t]*=[^\n]*"), "");
  return std::regex_replace(text, std::regex("\n[ \t]*(lens(?:_equivalent)?[ \t]*=)"),
                            "\nmegapixels = 0.1\n$1");
}

void mergeSection(toml::table& into, const toml::table& from) {
  for (const auto& [key, value] : from) into.insert_or_assign(key, value);
}

// The plan of the repository with this part added to it.
std::optional<std::string> completed(const std::string& part) {
  const toml::parse_result added = toml::parse(part);
  toml::parse_result parsed = toml::parse(textOf(tinyPlan()));
  if (!added || !parsed) return std::nullopt;
  toml::table& plan = parsed.table();
  for (const auto& [key, value] : added.table()) {
    toml::node* const there = plan.get(key);
    if (there != nullptr && there->is_table() && value.is_table())
      mergeSection(*there->as_table(), *value.as_table());
    else if (there != nullptr && there->is_array() && value.is_array())
      for (const auto& each : *value.as_array()) there->as_array()->push_back(each);
    else
      plan.insert_or_assign(key, value);
  }
  std::ostringstream text;
  text << plan << "\n";
  return text.str();
}

bool isWhole(const std::string& plan) {
  return plan.starts_with("format = ") && plan.find("\n[wall]") != std::string::npos;
}

// Words of a command; those between quotation marks are one.
std::vector<std::string> wordsOf(const std::string& line) {
  std::vector<std::string> words;
  const std::regex word("\"([^\"]*)\"|([^ \"]+)");
  for (std::sregex_iterator it(line.begin(), line.end(), word), end; it != end; ++it)
    words.push_back((*it)[2].matched ? (*it)[2].str() : (*it)[1].str());
  return words;
}

}  // namespace

ExampleFolder::ExampleFolder() {
  fs::copy(demoPlan().parent_path().parent_path(), folder_ / "assets", fs::copy_options::recursive);
  makeNewPlansSmall();
}

// Plans in the folder of assets say what they say: a gap shows in tiny.toml.
void ExampleFolder::makeNewPlansSmall() {
  for (const auto& entry : fs::recursive_directory_iterator(folder_.path())) {
    const fs::path file = entry.path();
    if (file.extension() != ".toml" || !small_.insert(file.string()).second) continue;
    std::string text = withSmallShots(textOf(file));
    const bool is_new = file.parent_path() == folder_.path();
    if (is_new)
      text = std::regex_replace(text, std::regex("ground = \"bare\" \\}"), "ground = \"covered\" }");
    write(file, text);
  }
}

std::string ExampleFolder::whyNotPlan(const std::string& name, const std::string& text) {
  const auto plan = isWhole(text) ? std::optional(text) : completed(text);
  if (!plan) return "is no TOML";
  small_.erase((folder_ / name).string());
  write(folder_ / name, *plan);
  makeNewPlansSmall();
  const Outcome checked = run({"check", name, "--quiet"}, folder_.path());
  return checked.status == 0 && checked.err.empty() ? "" : "the plan isn't right: " + checked.err;
}

std::string ExampleFolder::whyNotCommand(const std::string& line) {
  std::smatch found;
  const bool says = std::regex_search(line, found, std::regex("# exit status ([0-9])$"));
  const int expected = says ? std::stoi(found[1]) : 0;
  std::vector<std::string> words = wordsOf(line.substr(0, line.find(" #")));
  if (words.empty() || words.front() != "petalproof") return "is no command of petalproof: " + line;
  words.erase(words.begin());
  const Outcome outcome = run(words, folder_.path());
  makeNewPlansSmall();
  if (outcome.status == expected) return "";
  return line + " ends with " + std::to_string(outcome.status) + ": " + outcome.err + outcome.out;
}

std::string ExampleFolder::whyNot(const std::string& info, const std::string& example) {
  const std::vector<std::string> words = wordsOf(info);
  const std::string kind = words.empty() ? "" : words[0];
  if (kind.empty() || kind == "text") return "";
  if (kind == "json") return nlohmann::json::accept(example) ? "" : "is no JSON";
  if (kind == "toml") return whyNotPlan(words.size() > 1 ? words[1] : "example.toml", example);
  if (kind == "csv" && words.size() == 2) {
    write(folder_ / words[1], example);
    return "";
  }
  if (kind != "sh") return "nobody knows what to do with " + info;
  std::istringstream lines(example);
  for (std::string line; std::getline(lines, line);)
    if (std::string why = whyNotCommand(line); !why.empty()) return why;
  return "";
}

}  // namespace petalproof::program
