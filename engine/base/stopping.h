#pragma once
// How long work is stopped. A caller that may want to stop it keeps a std::stop_source and passes its token.
// Every long step asks the token within itself, at least a few times a second on each thread, by
// throwIfStopAsked: once a stop is asked for, the step throws Stopped, which passes through all steps and
// loops to whoever keeps the source. Callbacks (progress, results) never throw and don't stop anything.

#include <stop_token>

namespace petalproof {

// Work ended because its caller asked it to stop. It left no result. Not an error: only the function that
// keeps the stop source catches it.
struct Stopped {};

// For steps of long work. A token without a source never stops anything.
inline void throwIfStopAsked(const std::stop_token& stop) {
  if (stop.stop_requested()) throw Stopped{};
}

}  // namespace petalproof
