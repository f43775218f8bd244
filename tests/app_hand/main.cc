// A hand at work until somebody kills it: opens a plan and edits it by a sequence of random edits. After
// each action it writes a line with the number of actions done to standard output.
//   petalproof_app_hand PLAN STATE_FOLDER SEED

#include "tests/app/random_edits.h"
#include "viewer/app/session.h"

#include <unistd.h>

#include <cstdlib>
#include <string>

int main(int argc, char** argv) {
  using namespace petalproof::app;
  if (argc != 4) return 2;
  SessionOptions options;
  options.live = false;
  options.state_folder = argv[2];
  Session session(options);
  session.perform(OpenPlan{argv[1]});
  if (!session.state().hasPlan()) return 3;
  const std::uint64_t seed = std::strtoull(argv[3], nullptr, 10);
  for (std::uint64_t step = 0;; ++step) {
    session.perform(handAction(session.state(), seed, step));
    const std::string line = std::to_string(step + 1) + "\n";
    if (::write(STDOUT_FILENO, line.data(), line.size()) < 0) return 4;
  }
}
