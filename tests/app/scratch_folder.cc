#include "tests/app/scratch_folder.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

namespace petalproof::app {
namespace fs = std::filesystem;

ScratchFolder::ScratchFolder() {
  std::string name = (fs::temp_directory_path() / "petalproof-app-XXXXXX").string();
  REQUIRE(mkdtemp(name.data()));
  path_ = fs::canonical(name);
}

ScratchFolder::~ScratchFolder() {
  std::error_code error;
  fs::remove_all(path_, error);
}

std::string textIn(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

void write(const fs::path& file, const std::string& text) {
  std::ofstream out(file, std::ios::binary);
  out << text;
  REQUIRE(out.flush());
}

}  // namespace petalproof::app
