#include "tests/extremes/bounded_child.h"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <csignal>
#include <ctime>
#include <exception>
#include <new>

namespace petalproof::testing {
namespace {

void limit(int resource, std::uint64_t most) {
  const rlimit both{most, most};
  setrlimit(static_cast<__rlimit_resource_t>(resource), &both);
}

std::string outcomeOf(const std::function<std::string()>& work) {
  try {
    return work();
  } catch (const std::bad_alloc&) {
    return "asked for more memory than it may have";
  } catch (const std::exception& error) {
    return std::string("threw ") + error.what();
  }
}

[[noreturn]] void beChild(const std::function<std::string()>& work, const Bounds& bounds, int answer) {
  std::signal(SIGSEGV, SIG_DFL);  // doctest's handlers would report as if they were the test
  std::signal(SIGABRT, SIG_DFL);
  std::signal(SIGFPE, SIG_DFL);
  if (bounds.bytes != 0) limit(RLIMIT_AS, bounds.bytes);
  if (bounds.cpu_seconds != 0) limit(RLIMIT_CPU, static_cast<std::uint64_t>(bounds.cpu_seconds));
  limit(RLIMIT_CORE, 0);
  const std::string outcome = outcomeOf(work);
  for (std::size_t done = 0; done < outcome.size();) {
    const ssize_t count = ::write(answer, outcome.data() + done, outcome.size() - done);
    if (count <= 0) break;
    done += static_cast<std::size_t>(count);
  }
  ::_exit(0);
}

std::string readAll(int from) {
  std::string text;
  std::array<char, 4096> part;
  for (ssize_t count = 0; (count = ::read(from, part.data(), part.size())) > 0;)
    text.append(part.data(), static_cast<std::size_t>(count));
  return text;
}

}  // namespace

std::string runBounded(const std::function<std::string()>& work, const Bounds& bounds) {
  std::array<int, 2> answer{};
  if (::pipe(answer.data()) != 0) return "has no pipe";
  const pid_t child = ::fork();
  if (child < 0) return "can't start a process";
  if (child == 0) {
    ::close(answer[0]);
    beChild(work, bounds, answer[1]);
  }
  ::close(answer[1]);
  std::string said = readAll(answer[0]);
  ::close(answer[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  if (WIFSIGNALED(status)) {
    const int signal = WTERMSIG(status);
    if (signal == SIGXCPU || signal == SIGKILL)
      return "took more than " + std::to_string(bounds.cpu_seconds) + " s of processor time";
    return "crashed by signal " + std::to_string(signal);
  }
  if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) return "ended with status " + std::to_string(status);
  return said;
}

double cpuSeconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

}  // namespace petalproof::testing
