#include "viewer/app/session.h"

#include "viewer/app/internal/session_files.h"
#include "viewer/app/internal/session_parts.h"
#include "viewer/app/internal/session_work.h"

#include <utility>

namespace petalproof::app {

Session::Session(SessionOptions options) : parts_(std::make_unique<SessionParts>(std::move(options))) {}
Session::~Session() = default;

const State& Session::state() const { return parts_->state; }
void Session::perform(const Action& action) { parts_->perform(action); }

bool Session::poll() {
  const bool checks = takeChecks(*parts_);
  const bool advice = takeAdvice(*parts_);
  const bool pictures = takePictures(*parts_);
  const bool file = takeFileChange(*parts_);
  const bool safe_again = parts_->retryKeepingSafe();
  return takeFillers(*parts_) || safe_again || file || pictures || advice || checks;
}

}  // namespace petalproof::app
