#include "viewer/interrupt.h"

#include <unistd.h>

#include <array>
#include <atomic>
#include <csignal>
#include <cstdlib>
#include <exception>
#include <string_view>

namespace petalproof {
namespace {

constexpr std::array watched_signals{SIGINT, SIGTERM, SIGHUP};

enum class Phase { working, writing, written };

// A signal's handler is given nothing: what it reads and notes has to be where it can reach it.
std::atomic<Phase> phase = Phase::working;
std::atomic<int> noted = 0;
std::atomic<bool> line_is_shown = false;  // a line of progress, on a terminal
static_assert(std::atomic<Phase>::is_always_lock_free && std::atomic<int>::is_always_lock_free &&
              std::atomic<bool>::is_always_lock_free);

void say(std::string_view text) {
  const ssize_t written = ::write(STDERR_FILENO, text.data(), text.size());
  static_cast<void>(written);  // there is nobody else to tell
}

void setHandler(int signal, void (*handler)(int)) {
  struct sigaction action = {};
  action.sa_handler = handler;
  action.sa_flags = static_cast<int>(SA_RESETHAND) | static_cast<int>(SA_NODEFER) | SA_RESTART;
  sigaction(signal, &action, nullptr);
}

// Calls only what a handler may call.
void end(int signal) {
  if (line_is_shown) say("\r\033[K");
  if (phase != Phase::written) say("petalproof: stopped; nothing was written\n");
  setHandler(signal, SIG_DFL);
  ::raise(signal);
}

extern "C" void onSignal(int signal) {
  if (phase == Phase::writing)
    noted = signal;
  else
    end(signal);
}

}  // namespace

InterruptWatch::InterruptWatch() {
  noted = 0;
  phase = Phase::working;
  line_is_shown = ::isatty(STDERR_FILENO) == 1;
  for (const int signal : watched_signals) {
    struct sigaction before = {};
    sigaction(signal, nullptr, &before);
    // Programs started by nohup are to survive their terminal.
    if (signal != SIGHUP || before.sa_handler != SIG_IGN) setHandler(signal, onSignal);
  }
}

InterruptWatch::~InterruptWatch() {
  for (const int signal : watched_signals) {
    struct sigaction now = {};
    sigaction(signal, nullptr, &now);
    if (now.sa_handler == onSignal) setHandler(signal, SIG_DFL);
  }
}

WritingWatch::WritingWatch() { phase = Phase::writing; }

WritingWatch::~WritingWatch() {
  phase = Phase::written;
  if (noted != 0 && std::uncaught_exceptions() == 0) end(noted);
}

bool WritingWatch::isAskedToStop() const { return noted != 0; }

void endByInterrupt() {
  const int signal = noted != 0 ? noted.load() : SIGINT;
  phase = Phase::working;
  end(signal);
  std::_Exit(128 + signal);
}

}  // namespace petalproof
