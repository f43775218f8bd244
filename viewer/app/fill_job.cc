#include "viewer/app/fill_job.h"

#include <atomic>
#include <mutex>
#include <thread>
#include <utility>

namespace petalproof::app {

struct FillJob::Parts {
  std::shared_ptr<const LoadedPlan> plan;
  std::function<void()> wake;
  std::atomic<bool> stopped = false;
  std::mutex mutex;
  FillProgress progress;
  std::optional<Result<FillResult>> result;
  std::thread worker;

  void run(FillOptions options) {
    options.cancelled = [this] { return stopped.load(); };
    options.progress = [this](double share, const std::string& what) {
      {
        const std::lock_guard lock(mutex);
        progress = {share, what};
      }
      if (wake) wake();
    };
    auto done = fillPlan(*plan, options);
    {
      const std::lock_guard lock(mutex);
      result = std::move(done);
    }
    if (wake) wake();
  }
};

FillJob::FillJob(std::shared_ptr<const LoadedPlan> plan, FillOptions options, std::function<void()> wake)
    : parts_(std::make_unique<Parts>()) {
  parts_->plan = std::move(plan);
  parts_->wake = std::move(wake);
  parts_->worker = std::thread([parts = parts_.get(), options = std::move(options)] { parts->run(options); });
}

FillJob::~FillJob() {
  stop();
  parts_->worker.join();
}

void FillJob::stop() { parts_->stopped = true; }

FillProgress FillJob::progress() const {
  const std::lock_guard lock(parts_->mutex);
  return parts_->progress;
}

std::optional<Result<FillResult>> FillJob::take() {
  const std::lock_guard lock(parts_->mutex);
  return std::exchange(parts_->result, std::nullopt);
}

FillNews newsOf(const FillResult& result) {
  FillNews news;
  for (const PlacedFiller& placed : result.fillers) {
    if (placed.old) continue;
    const Placement& placement = placed.filler.placement;
    news.placed.push_back({placement.bloom, placement.at, placed.rank, placed.hides, placed.over});
  }
  news.left = result.left;
  news.totals = result.totals;
  news.notes = result.notes;
  news.at_least = result.at_least;
  news.cancelled = result.cancelled;
  return news;
}

}  // namespace petalproof::app
