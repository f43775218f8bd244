#include "viewer/interrupt.h"

#include <atomic>
#include <csignal>

namespace petalproof {
namespace {

// A signal's handler is given nothing: what it notes has to be where it can reach it.
std::atomic<bool> noted = false;
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void noteInterrupt(int) { noted = true; }

}  // namespace

InterruptWatch::InterruptWatch() {
  noted = false;
  struct sigaction action = {};
  action.sa_handler = noteInterrupt;
  action.sa_flags = static_cast<int>(SA_RESETHAND) | SA_RESTART;
  sigaction(SIGINT, &action, nullptr);
}

InterruptWatch::~InterruptWatch() {
  struct sigaction action = {};
  action.sa_handler = SIG_DFL;
  sigaction(SIGINT, &action, nullptr);
}

bool InterruptWatch::asked() const { return noted; }

}  // namespace petalproof
