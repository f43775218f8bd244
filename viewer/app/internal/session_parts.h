#pragma once
// The parts of a Session (session.h): its state, its journal, its workers, and the steps that its sources
// share. session_files.h and session_work.h carry out the requests on it.

#include "engine/base/pool.h"
#include "engine/scene/scene_keeper.h"
#include "viewer/app/file_watch.h"
#include "viewer/app/journal.h"
#include "viewer/app/live_checker.h"
#include "viewer/app/long_work.h"
#include "viewer/app/marked_pictures.h"
#include "viewer/app/plan_file.h"
#include "viewer/app/session.h"
#include "viewer/app/settings.h"

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>

namespace petalproof::app {

struct SessionParts {
  explicit SessionParts(SessionOptions given);

  SessionOptions options;
  Pool pool;  // of the jobs: previews come before them
  State state;
  Settings settings;
  scene::SceneKeeper scenes;
  std::optional<Journal> journal;
  std::optional<FoundWork> taken_up;  // its journal is removed once the session's own journal is on the disk
  std::chrono::steady_clock::time_point last_tried;  // when the journal was last written, or failed to be
  std::optional<FileStamp> on_disk;                  // the plan's file as it was read or saved
  std::optional<FileWatch> watch;                    // of that file
  std::unique_ptr<FillJob> filling;
  std::unique_ptr<AdviceJob> advising;
  ShotAdviceNews asked_advice;  // the plan and the shot that `advising` works on
  std::unique_ptr<PicturesJob> drawing;
  std::optional<LiveChecker> live;

  void perform(const Action& action);
  // Edits, undoes or does again, and keeps the work safe; where the scene can't be built, the notice says
  // why.
  void changePlan(const Action& action);
  // Makes `next`, which has its scene, the state, and asks for the checks that it lacks.
  void show(State next);
  // Builds the scene of the next state's plan. False, with the problems in `next`, where that fails.
  bool makeScene(State& next);
  void askForChecks();
  // Sums the bare maps of all shots, once every shot is checked in full.
  void sumBareMaps();
  // Writes unsaved work to the journal; where everything is saved, removes the journal.
  void keepSafe(bool to_disk);
  // Tries again after a failure; true where the work is safe now.
  bool retryKeepingSafe();
  // Removes the journals: the work is saved, or the person gave it up.
  void dropJournal();
  void forgetTakenUp();
  // Stores the choices of a view that outlast a session.
  void remember(const ViewChoices& view);
};

}  // namespace petalproof::app
