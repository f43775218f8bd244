#include "engine/plan/toml_lexer.h"

#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

using namespace petalproof::plan;

TEST_CASE("a quoted text ends at its quotes, or with its line where it isn't closed") {
  const auto rest = [](std::string_view toml) { return std::string(toml.substr(endOfQuoted(toml, 0))); };
  CHECK(rest(R"("a" b)") == " b");
  CHECK(rest(R"("a \" b" c)") == " c");
  CHECK(rest(R"('a \' b)") == " b");  // no escapes between such quotes
  CHECK(rest("\"\"\"a\n\"b\" \"\"\" c") == " c");
  CHECK(rest("'''it's''' c") == " c");
  CHECK(rest("\"\" b") == " b");
  CHECK(rest("\"a\nb\"") == "\nb\"");
  CHECK(rest("\"\"\"a\nb") == "");
  CHECK(rest("\"a\\") == "");
}

TEST_CASE("comments and commas outside of texts") {
  CHECK(commentsIn("a = 1 # one\r\nb = \"# no\" # two") == std::vector<std::string_view>{"# one", "# two"});
  CHECK(commentsIn("a = 'x # y'").empty());
  const std::string_view list = " # a, b\n \"c,d\" , e";
  CHECK(firstComma(list) == list.find(" , e") + 1);
  CHECK(firstComma("no # , here") == 11);
}
