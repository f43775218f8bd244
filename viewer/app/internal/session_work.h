#pragma once
// A session's work in other threads: starts searches for fillers and advice and the writing of pictures, and
// takes over their results and those of the live checks. SessionParts::perform() calls carryOut() for each
// request; Session::poll() calls the take functions.

#include "viewer/app/action.h"

namespace petalproof::app {

struct SessionParts;

void carryOut(SessionParts& session, const PlaceFillers& request);
void carryOut(SessionParts& session, const StopPlacing& request);
void carryOut(SessionParts& session, const FindAdvice& request);
void carryOut(SessionParts& session, const StopAdvising& request);
void carryOut(SessionParts& session, const WritePictures& request);
void carryOut(SessionParts& session, const StopPictures& request);

// True where the state changed. None of them waits.
bool takeChecks(SessionParts& session);
bool takeFillers(SessionParts& session);
bool takeAdvice(SessionParts& session);
bool takePictures(SessionParts& session);

}  // namespace petalproof::app
