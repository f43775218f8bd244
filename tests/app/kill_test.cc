// Killed at any moment, the work is there at the next start: what was on screen after the last action that
// was done, or after the one that was being done.

#include "engine/base/hash.h"
#include "engine/plan/write_plan.h"
#include "tests/app/random_edits.h"
#include "tests/app/scratch_folder.h"
#include "tests/app/test_plans.h"
#include "viewer/app/journal.h"
#include "viewer/app/session.h"

#include <doctest/doctest.h>

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <thread>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::scene;
using namespace petalproof::app;
namespace fs = std::filesystem;

namespace {

// How many actions were done, by the last whole line.
int lastCount(const std::string& lines) {
  const std::size_t end = lines.rfind('\n');
  if (end == std::string::npos) return 0;
  const std::size_t begin = end == 0 ? std::string::npos : lines.rfind('\n', end - 1);
  return std::atoi(lines.c_str() + (begin == std::string::npos ? 0 : begin + 1));
}

pid_t startHand(const fs::path& plan, const fs::path& state, std::uint64_t seed, const fs::path& out) {
  const std::string number = std::to_string(seed);
  const pid_t child = fork();
  if (child != 0) return child;
  const int file = ::open(out.c_str(), O_CREAT | O_WRONLY | O_TRUNC, 0600);
  ::dup2(file, STDOUT_FILENO);
  ::execl(PETALPROOF_HAND, PETALPROOF_HAND, plan.c_str(), state.c_str(), number.c_str(), nullptr);
  ::_exit(127);
}

// The state after so many actions of the hand, done here without a journal.
State stateAfter(std::shared_ptr<const LoadedPlan> plan, const fs::path& path, std::uint64_t seed,
                 int actions) {
  SessionOptions options;
  options.live = false;
  State state = opened({}, std::move(plan), path);
  for (int step = 0; step < actions; ++step)
    state = app::apply(state, handAction(state, seed, static_cast<std::uint64_t>(step)));
  return state;
}

bool isWorkOf(const State& state, const std::optional<FoundWork>& work) {
  return work ? work->plan->plan == state.plan() : !state.changed();
}

// True where the hand had got to work.
bool killOnce(std::uint64_t seed, int after_ms) {
  CAPTURE(seed);
  CAPTURE(after_ms);
  const ScratchFolder folder;
  const fs::path plan = folder.path() / "wall.toml";
  const fs::path out = folder.path() / "done";
  write(plan, writePlan(smallPlan()->plan));
  const pid_t child = startHand(plan, folder.path() / "state", seed, out);
  REQUIRE(child > 0);
  std::this_thread::sleep_for(std::chrono::milliseconds(after_ms));
  REQUIRE(::kill(child, SIGKILL) == 0);
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  REQUIRE(WIFSIGNALED(status));  // it hadn't ended by itself
  const int done = lastCount(textIn(out));
  const auto work = workOn(plan, folder.path() / "state");
  auto base = loadPlan(plan);
  REQUIRE(base);
  const auto start = std::make_shared<const LoadedPlan>(std::move(*base.value));
  CAPTURE(done);
  const bool found = isWorkOf(stateAfter(start, plan, seed, done), work) ||
                     isWorkOf(stateAfter(start, plan, seed, done + 1), work);
  CHECK(found);
  return work.has_value();
}

void killMany(int kills) {
  int with_work = 0;
  for (int k = 0; k < kills; ++k) {
    const auto seed = static_cast<std::uint64_t>(k);
    with_work += killOnce(seed, 20 + static_cast<int>(unitFromHash(hashOf({seed, 5})) * 400)) ? 1 : 0;
  }
  CHECK(with_work > kills / 2);
}

}  // namespace

TEST_CASE("killed at any moment, nothing is lost") { killMany(6); }

TEST_CASE("the same 50 times" * doctest::skip(std::getenv("PETALPROOF_LONG_TESTS") == nullptr)) {
  killMany(50);
}
