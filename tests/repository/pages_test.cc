// What the pages for people name exists.

#include "tests/repository/source_files.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <sstream>
#include <string>

using namespace petalproof::repository;

TEST_CASE("paths on a page are found") {
  const auto paths =
      pathsNamedIn("see `engine/plan/plan.h` and [the demo](assets/plans/demo.toml#top), not `a/b`");
  REQUIRE(paths.size() == 2);
  CHECK(paths[0] == "engine/plan/plan.h");
  CHECK(paths[1] == "assets/plans/demo.toml");
}

TEST_CASE("every path that a page names exists") {
  for (const char* page : {"README.md", "DEVELOPERS.md", "third_party/README.md"}) {
    const auto file = sourceRoot() / page;
    const auto text = textOf(file);
    CHECK_MESSAGE(!text.empty(), page);
    const bool from_root = std::string(page) != "third_party/README.md";
    for (const std::string& path : pathsNamedIn(text)) {
      INFO(page, " names ", path);
      const bool exists = std::filesystem::exists(sourceRoot() / path) ||
                          (!from_root && std::filesystem::exists(file.parent_path() / path));
      CHECK(exists);
    }
  }
}

TEST_CASE("every Debian package is explained") {
  const std::string explained = textOf(sourceRoot() / "third_party/README.md");
  std::istringstream packages(textOf(sourceRoot() / "third_party/packages.txt"));
  int seen = 0;
  for (std::string line; std::getline(packages, line);) {
    if (line.empty() || line[0] == '#') continue;
    const std::string package = line.substr(line.find(' ') + 1);
    // Tools and the parts of OpenCV stand there without their full package name.
    const bool tool = package == "g++" || package == "cmake" || package == "ninja-build" ||
                      package == "pkgconf" || package == "clang" || package == "clang-tidy";
    const bool part = package.starts_with("libopencv-");
    INFO(package);
    CHECK((tool || part || explained.find(package) != std::string::npos));
    ++seen;
  }
  CHECK(seen > 20);
}
