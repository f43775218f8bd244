#include "engine/base/nearest_name.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace petalproof;

namespace {

const std::vector<std::string> shapes = {"dahlia", "cone dahlia", "petal bloom", "peony", "rose", "bud"};

}  // namespace

TEST_CASE("a misspelt name finds the one that was meant") {
  CHECK(nearestName("dalia", shapes) == "dahlia");    // a letter missing
  CHECK(nearestName("dahllia", shapes) == "dahlia");  // one too many
  CHECK(nearestName("dehlia", shapes) == "dahlia");   // another one
  CHECK(nearestName("rsoe", shapes) == "rose");       // two swapped
  CHECK(nearestName("ROSE", shapes) == "rose");       // other case
  CHECK(nearestName("petalbloom", shapes) == "petal bloom");
  CHECK(nearestName("cone dalhia", shapes) == "cone dahlia");
  CHECK(nearestName("bu", shapes) == "bud");
}

TEST_CASE("a name that is like none finds none") {
  CHECK_FALSE(nearestName("tulip", shapes));
  CHECK_FALSE(nearestName("", shapes));
  CHECK_FALSE(nearestName("x", shapes));
  CHECK_FALSE(nearestName("dahlia", std::vector<std::string>{}));
  CHECK_FALSE(nearestName("dahlia", std::vector<std::string>{""}));
}

TEST_CASE("edits are allowed up to a third of the longer name, and one at least") {
  CHECK(nearestName("ab", std::vector<std::string>{"ac"}) == "ac");              // 1 of 2
  CHECK_FALSE(nearestName("ab", std::vector<std::string>{"cd"}));                // 2 of 2
  CHECK(nearestName("abcdef", std::vector<std::string>{"abcdxy"}) == "abcdxy");  // 2 of 6
  CHECK_FALSE(nearestName("abcdef", std::vector<std::string>{"abcxyz"}));        // 3 of 6
  CHECK_FALSE(nearestName("abcde", std::vector<std::string>{"abcxy"}));          // 2 of 5
}

TEST_CASE("of equally near names the first counts") {
  CHECK(nearestName("rosa", std::vector<std::string>{"rosy", "rose"}) == "rosy");
  CHECK(nearestName("rose", std::vector<std::string>{"rosy", "rose"}) == "rose");
}

TEST_CASE("letters beyond ASCII count once") {
  // Six letters, two of them changed: just within a third. As bytes it would be three or four of eight.
  CHECK(nearestName("h\u00e4rb\u00e4n", std::vector<std::string>{"h\u00f6rb\u00f6n"}) == "h\u00f6rb\u00f6n");
}

TEST_CASE("very long names cost nothing") {
  const std::string longest(1'000'000, 'a');
  CHECK_FALSE(nearestName(longest, shapes));
  CHECK_FALSE(nearestName("rose", std::vector<std::string>{longest}));
}

TEST_CASE("the tail of a message names the nearest") {
  CHECK(didYouMean("dalia", shapes) == ", did you mean \"dahlia\"?");
  CHECK(didYouMean("tulip", shapes).empty());
}
