// Two types of one name in one namespace are one type to the linker: a vector of the one may run with the
// code of the other, and no compiler says so, since no source sees both.

#include "tests/repository/source_files.h"

#include <doctest/doctest.h>

#include <map>
#include <regex>
#include <string>
#include <utility>
#include <vector>

using namespace petalproof::repository;

namespace {

using Named = std::pair<std::string, std::string>;  // namespace, type

// Types that a header defines, not indented, in the namespace that it opens.
std::vector<Named> typesIn(const std::string& header) {
  std::smatch found;
  const std::string opened =
      std::regex_search(header, found, std::regex("\nnamespace ([A-Za-z_:]+) \\{")) ? found[1].str() : "";
  const std::regex type("\n(?:struct|class|enum class) ([A-Za-z_]+)(?: final)?(?: : [^{;\n]*)? \\{");
  std::vector<Named> types;
  for (std::sregex_iterator one(header.begin(), header.end(), type), end; one != end; ++one)
    types.emplace_back(opened, (*one)[1].str());
  return types;
}

}  // namespace

TEST_CASE("types are found in a header") {
  const std::vector<Named> types =
      typesIn("\nnamespace a::b {\nstruct One {\n};\nenum class Two : int {\n};\n");
  REQUIRE(types.size() == 2);
  CHECK(types[0] == Named("a::b", "One"));
  CHECK(types[1] == Named("a::b", "Two"));
}

TEST_CASE("no two headers of the engine and the viewer define types of one name") {
  std::map<Named, std::string> known;
  for (const char* const folder : {"engine", "viewer"})
    for (const auto& file : filesBelow(folder, {".h"})) {
      CAPTURE(file.string());
      for (const Named& type : typesIn(textOf(file))) {
        const auto first = known.emplace(type, file.string());
        INFO(type.second, " is defined in ", first.first->second, " too");
        CHECK(first.second);
      }
    }
  CHECK(known.size() > 200);
}
