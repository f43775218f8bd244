#pragma once
// A session's work with files: opening, saving, closing, and work found in journals. SessionParts::perform()
// calls carryOut() for each request; Session::poll() calls takeFileChange().

#include "viewer/app/action.h"

namespace petalproof::app {

struct SessionParts;

void carryOut(SessionParts& session, const OpenPlan& request);
void carryOut(SessionParts& session, const OpenDemo& request);
void carryOut(SessionParts& session, const StartWith& request);
void carryOut(SessionParts& session, const TakeUpFoundWork& request);
void carryOut(SessionParts& session, const Save& request);
void carryOut(SessionParts& session, const SaveAs& request);
void carryOut(SessionParts& session, const ReadAgain& request);
void carryOut(SessionParts& session, const LookAtDisk& request);
void carryOut(SessionParts& session, const ClosePlan& request);

// Looks at the plan's file where the file watch noticed a change; true where it did.
bool takeFileChange(SessionParts& session);

}  // namespace petalproof::app
