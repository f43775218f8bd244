#include "tests/program/run_program.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace petalproof::program {
namespace fs = std::filesystem;
namespace {

// In the child: never returns.
[[noreturn]] void become(const std::vector<std::string>& arguments, const fs::path& folder,
                         const fs::path& out, const fs::path& err) {
  std::vector<std::string> words{PETALPROOF_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  const int out_file = open(out.c_str(), O_CREAT | O_WRONLY | O_TRUNC, 0600);
  const int err_file = open(err.c_str(), O_CREAT | O_WRONLY | O_TRUNC, 0600);
  if (out_file < 0 || err_file < 0 || chdir(folder.c_str()) != 0) _exit(127);
  dup2(out_file, STDOUT_FILENO);
  dup2(err_file, STDERR_FILENO);
  execv(pointers[0], pointers.data());
  _exit(127);
}

}  // namespace

Outcome run(const std::vector<std::string>& arguments, const fs::path& folder) {
  const TemporaryFolder captured;
  const auto out = captured / "out";
  const auto err = captured / "err";
  const pid_t child = fork();
  if (child == 0) become(arguments, folder, out, err);
  int status = 0;
  rusage used{};
  wait4(child, &status, 0, &used);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, textOf(out), textOf(err),
          std::int64_t{used.ru_maxrss} * 1024};
}

TemporaryFolder::TemporaryFolder() {
  std::string name = (fs::temp_directory_path() / "petalproof-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder can be made");
  path_ = name;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::string textOf(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

void write(const fs::path& file, const std::string& text) { std::ofstream(file, std::ios::binary) << text; }

fs::path demoPlan() { return fs::path(PETALPROOF_SOURCE_DIR) / "assets/plans/demo.toml"; }
fs::path tinyPlan() { return fs::path(PETALPROOF_SOURCE_DIR) / "assets/plans/tiny.toml"; }

}  // namespace petalproof::program
