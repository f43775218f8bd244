// A header is implemented in the source of its name, so that nobody has to search for a function's body.

#include "tests/repository/source_files.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <regex>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

using namespace petalproof::repository;

namespace {

// Without the parts that no header can declare.
std::string withoutAnonymous(std::string source) {
  const std::string begin = "\nnamespace {\n";
  const std::string end = "\n}  // namespace\n";
  for (std::size_t at = source.find(begin); at != std::string::npos; at = source.find(begin, at)) {
    const std::size_t closed = source.find(end, at);
    if (closed == std::string::npos) return source.substr(0, at);
    source.erase(at, closed + end.size() - 1 - at);
  }
  return source;
}

// The names of the functions that a source defines outside of anonymous namespaces, as "open" or
// "File::open".
std::vector<std::string> functionsIn(const std::string& source) {
  const std::regex not_function(
      "^(namespace|using|template|inline|static|constexpr|const|extern|struct|class|enum)\\b.*");
  const std::regex function("^(?:[A-Za-z][^()=;\"]*[ &*>])?((?:[A-Za-z_]\\w*::)*~?[A-Za-z_]\\w*)\\(.*");
  std::istringstream lines(withoutAnonymous(source));
  std::vector<std::string> names;
  std::smatch found;
  for (std::string line; std::getline(lines, line);) {
    if (std::regex_match(line, not_function) || !std::regex_match(line, found, function)) continue;
    if (line.back() != ';') names.push_back(found[1].str());
  }
  return names;
}

bool declares(const std::string& header, const std::string& function) {
  const std::size_t colons = function.find("::");
  if (colons == std::string::npos) return header.find(" " + function + "(") != std::string::npos;
  return std::regex_search(header,
                           std::regex("\n(?:struct|class) " + function.substr(0, colons) + "\\b[^;\n]*\\{"));
}

// Whether a member function's class is defined in the source itself.
bool isOfOwnClass(const std::string& function, const std::string& source) {
  return function.find("::") != std::string::npos && declares(source, function);
}

// Sources with functions that headers of other names declare, each for a reason.
bool isExcepted(const std::string& source) {
  constexpr std::array<std::string_view, 4> endings = {
      "viewer/main.cc",
      "engine/check/shot_sight.cc",  // to be mended: worse() is declared in internal/worse_end.h
      // The same loops, compiled for another kind of processor.
      "_kernel_avx2.cc",
      "_kernel_baseline.cc",
  };
  return std::any_of(endings.begin(), endings.end(),
                     [&](std::string_view ending) { return source.ends_with(ending); });
}

}  // namespace

TEST_CASE("the functions of a source are found") {
  const std::string source =
      "\nnamespace a {\nnamespace {\n\nint hidden() { return 1; }\n\n}  // namespace\n\n"
      "int shown(int a) { return a; }\nstd::optional<int> File::open(\n    int mode) {\n  call();\n}\n"
      "constexpr int three = max(1, 3);\nFile::~File() { close(); }\n}  // namespace a\n";
  CHECK(functionsIn(source) == std::vector<std::string>{"shown", "File::open", "File::~File"});
  CHECK(declares("\nint shown(int a);\n", "shown"));
  CHECK_FALSE(declares("\nint shown_too(int a);\n", "shown"));
  CHECK(declares("\nclass File {\n};\n", "File::open"));
  CHECK_FALSE(declares("\nclass File;\n", "File::open"));
}

TEST_CASE("every function that a source shows is declared in the header of its name") {
  int seen = 0;
  for (const char* const folder : {"engine", "viewer"})
    for (const auto& file : filesBelow(folder, {".cc"})) {
      const std::string name = std::filesystem::relative(file, sourceRoot()).generic_string();
      if (isExcepted(name)) continue;
      const std::filesystem::path header_path = std::filesystem::path(file).replace_extension(".h");
      const std::string header = std::filesystem::exists(header_path) ? textOf(header_path) : "";
      const std::string source = textOf(file);
      for (const std::string& function : functionsIn(source)) {
        INFO(function, " in ", name);
        CHECK((declares(header, function) || isOfOwnClass(function, source)));
        ++seen;
      }
    }
  CHECK(seen > 500);
}
