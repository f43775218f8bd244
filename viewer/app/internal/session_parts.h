#pragma once
// What a session is made of.

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

struct Session::Parts {
  explicit Parts(SessionOptions given);

  SessionOptions options;
  State state;
  Settings settings;
  scene::SceneKeeper scenes;
  std::optional<Journal> journal;
  std::optional<FoundWork> taken_up;                 // its journal goes once its successor is on the disk
  std::chrono::steady_clock::time_point last_tried;  // to keep work safe
  std::optional<FileStamp> on_disk;                  // the plan's file as it was read or saved
  std::optional<FileWatch> watch;                    // of that file
  std::unique_ptr<FillJob> filling;
  std::unique_ptr<AdviceJob> advising;
  ShotAdviceNews asked_advice;  // what the advice will be on
  std::unique_ptr<PicturesJob> drawing;
  std::optional<LiveChecker> live;

  void perform(const Action& action);
  void changePlan(const Action& action);
  void show(State next);
  bool makeScene(State& next);
  void askForChecks();
  void keepSafe(bool to_disk);
  bool retryKeepingSafe();
  void dropJournal();
  void forgetTakenUp();
  void keepWatch();
  // `on_file`: the plan is what its file says; otherwise it is work to be saved there.
  void open(std::shared_ptr<const plan::LoadedPlan> plan, std::filesystem::path path, bool on_file = true);
  void offerWorkOn(const std::filesystem::path& path, const char* remark);
  void remember(const ViewChoices& view);

  // Of files: session_files.cc.
  void carryOut(const OpenPlan& request);
  void carryOut(const OpenDemo& request);
  void carryOut(const StartWith& request);
  void carryOut(const TakeUpFoundWork& request);
  void carryOut(const Save& request);
  void carryOut(const SaveAs& request);
  void carryOut(const ReadAgain& request);
  void carryOut(const LookAtDisk& request);
  void carryOut(const ClosePlan& request);
  // Of long work: session_work.cc.
  void carryOut(const PlaceFillers& request);
  void carryOut(const StopPlacing& request);
  void carryOut(const FindAdvice& request);
  void carryOut(const StopAdvising& request);
  void carryOut(const WritePictures& request);
  void carryOut(const StopPictures& request);
  template <class Other>
  void carryOut(const Other&) {}

  bool takeNews();
  bool takeStir();
  bool takeFillers();
  bool takeAdvice();
  bool takePictures();
  void sumUpBare();
};

}  // namespace petalproof::app
