#include "tests/program/run_program.h"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <string>
#include <thread>

namespace petalproof::program {
namespace fs = std::filesystem;
namespace {

// In the child: never returns.
[[noreturn]] void become(const std::vector<std::string>& arguments, const fs::path& folder,
                         const fs::path& out, const fs::path& err,
                         const std::function<void()>& prepare = {}) {
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
  if (prepare) prepare();
  execv(pointers[0], pointers.data());
  _exit(127);
}

// Processor time so far, by the 14th and 15th field of /proc/PID/stat; none where the process has ended.
std::optional<double> secondsOf(pid_t process) {
  std::ifstream stat("/proc/" + std::to_string(process) + "/stat");
  std::string skipped;
  std::string state;
  std::getline(stat, skipped, ')');
  stat >> state;
  for (int field = 4; field < 14; ++field) stat >> skipped;
  double user = 0;
  double system = 0;
  if (!(stat >> user >> system) || state == "Z") return std::nullopt;
  return (user + system) / static_cast<double>(sysconf(_SC_CLK_TCK));
}

bool interruptAfter(pid_t process, double seconds, int signal) {
  for (;;) {
    const auto used = secondsOf(process);
    if (!used) return false;
    if (*used >= seconds) return kill(process, signal) == 0;
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
}

// Waits for it to end.
double processorSeconds(const timeval& time) {
  return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
}

Outcome outcomeOf(pid_t child, const fs::path& out, const fs::path& err) {
  int status = 0;
  rusage used{};
  wait4(child, &status, 0, &used);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, WIFSIGNALED(status) ? WTERMSIG(status) : 0,
          textOf(out), textOf(err), std::int64_t{used.ru_maxrss} * 1024,
          processorSeconds(used.ru_utime) + processorSeconds(used.ru_stime)};
}

}  // namespace

Outcome run(const std::vector<std::string>& arguments, const fs::path& folder,
            const std::function<void()>& prepare) {
  const TemporaryFolder captured;
  const auto out = captured / "out";
  const auto err = captured / "err";
  const pid_t child = fork();
  if (child == 0) become(arguments, folder, out, err, prepare);
  return outcomeOf(child, out, err);
}

Interruption runAndInterrupt(const std::vector<std::string>& arguments, const fs::path& folder,
                             double after_seconds, int signal) {
  const TemporaryFolder captured;
  const pid_t child = fork();
  if (child == 0) become(arguments, folder, captured / "out", captured / "err");
  const bool interrupted = interruptAfter(child, after_seconds, signal);
  const auto start = std::chrono::steady_clock::now();
  Interruption outcome{outcomeOf(child, captured / "out", captured / "err")};
  if (!interrupted) outcome.status = -2;
  outcome.seconds_to_end = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return outcome;
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
