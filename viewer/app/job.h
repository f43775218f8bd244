#pragma once
// Runs a long piece of work in a thread of its own, with progress, a way to stop it and a result to take.
// Searches for fillers and advice, the writing of pictures and the first walls are jobs.

#include "viewer/app/state.h"

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>
#include <utility>

namespace petalproof::app {

// The link between the work and its job, safe in any thread: the work tells its progress and gets the token
// by which it is stopped.
class JobReport {
 public:
  explicit JobReport(std::function<void()> wake) : wake_(std::move(wake)) {}

  void tell(double share, const std::string& what) {
    {
      const std::lock_guard lock(mutex_);
      progress_ = {share, what};
    }
    wake();
  }
  std::stop_token stopToken() const { return stop_.get_token(); }
  void stop() { stop_.request_stop(); }
  void wake() const {
    if (wake_) wake_();
  }
  Progress progress() const {
    const std::lock_guard lock(mutex_);
    return progress_;
  }

 private:
  std::function<void()> wake_;
  mutable std::mutex mutex_;
  Progress progress_;
  std::stop_source stop_;
};

template <class Found>
class Job {
 public:
  // Starts at once. The work catches Stopped, if it passes the token on. `wake`: called from the worker's
  // thread when there is news; may be empty.
  Job(std::function<Found(JobReport&)> work, std::function<void()> wake)
      : parts_(std::make_unique<Parts>(std::move(wake))) {
    parts_->worker = std::thread([parts = parts_.get(), work = std::move(work)] {
      Found found = work(parts->report);
      {
        const std::lock_guard lock(parts->mutex);
        parts->found = std::move(found);
      }
      parts->report.wake();
    });
  }
  // Stops the work and waits for its end.
  ~Job() {
    stop();
    parts_->worker.join();
  }
  Job(const Job&) = delete;
  Job& operator=(const Job&) = delete;

  void stop() { parts_->report.stop(); }
  Progress progress() const { return parts_->report.progress(); }
  // The result, once, when the work is done.
  std::optional<Found> take() {
    const std::lock_guard lock(parts_->mutex);
    return std::exchange(parts_->found, std::nullopt);
  }

 private:
  struct Parts {
    explicit Parts(std::function<void()> wake) : report(std::move(wake)) {}
    JobReport report;
    std::mutex mutex;
    std::optional<Found> found;
    std::thread worker;
  };
  std::unique_ptr<Parts> parts_;
};

}  // namespace petalproof::app
