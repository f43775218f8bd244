#include "engine/advice/advice.h"

#include "engine/advice/internal/board_colours.h"
#include "engine/advice/internal/remedy_search.h"
#include "engine/advice/internal/shot_changes.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>
#include <utility>

namespace petalproof::advice {
namespace {

void add(check::ReadingCounts& sum, const check::ReadingCounts& counts) {
  sum.show += counts.show;
  sum.faint += counts.faint;
  sum.lost += counts.lost;
}

// How those of the holes read that show now.
check::ReadingCounts ofShowing(const std::vector<reading::Reads>& now,
                               const std::vector<reading::Reads>& then) {
  std::vector<reading::Reads> showing;
  for (std::size_t k = 0; k < std::min(now.size(), then.size()); ++k)
    if (now[k] == reading::Reads::shows) showing.push_back(then[k]);
  return countsOf(showing);
}

class Adviser {
 public:
  Adviser(const AdviceTask& task, const ShotReader& read) : task_(task), read_(read) {}

  Advice run() {
    Advice advice;
    for (const AskedShot& asked : task_.shots) add(advice.now, countsOf(asked.now.holes));
    if (advice.now.show == 0) return advice;
    advice.colours = triedColours();
    for (std::size_t k = 0; k < task_.shots.size(); ++k)
      if (countsOf(task_.shots[k].now.holes).show > 0) advice.shots.push_back(adviseOnShot(k));
    report(1, "done");
    return advice;
  }

 private:
  // The colours take the first part of the work, each shot its share of the rest.
  static constexpr double part_of_colours = 0.3;

  void report(double share, const std::string& what) const {
    if (task_.progress) task_.progress(share, what);
  }

  // Shot by shot, so that a reader may keep what a shot sees between colours.
  std::vector<TriedColour> triedColours() const {
    std::vector<TriedColour> tried;
    for (BoardColour& each : boardColours(task_.plan)) tried.push_back({std::move(each), {}, {}});
    const double step = part_of_colours / static_cast<double>(task_.shots.size() * tried.size());
    for (std::size_t k = 0; k < task_.shots.size(); ++k)
      for (std::size_t colour = 0; colour < tried.size(); ++colour) {
        report(step * static_cast<double>(k * tried.size() + colour),
               fmt::format("{}: trying colours for the boards", task_.shots[k].shot.name));
        addShot(tried[colour], task_.shots[k]);
      }
    std::stable_sort(tried.begin(), tried.end(), [](const TriedColour& a, const TriedColour& b) {
      return std::tie(a.counts.show, a.counts.faint) < std::tie(b.counts.show, b.counts.faint);
    });
    return tried;
  }

  void addShot(TriedColour& tried, const AskedShot& asked) const {
    scene::SceneColours colours = task_.colours;
    colours.board = tried.board.colour;
    const SeenShot then = read_(asked.shot, colours);
    add(tried.counts, countsOf(then.holes));
    add(tried.of_showing, ofShowing(asked.now.holes, then.holes));
  }

  ShotAdvice adviseOnShot(std::size_t index) const {
    const plan::Shot& shot = task_.shots[index].shot;
    const double share = (1 - part_of_colours) / static_cast<double>(task_.shots.size());
    const double before = part_of_colours + share * static_cast<double>(index);
    const camera::WallFrame wall = camera::wallFrameOf(task_.plan);
    const std::vector<ShotChange> changes = shotChanges(shot, {wall, task_.plan.wall.room});
    return remedyFor({task_.shots[index], changes, wall, task_.colours}, read_, [&](double part) {
      report(before + share * part, fmt::format("{}: trying what would help", shot.name));
    });
  }

  const AdviceTask& task_;
  const ShotReader& read_;
};

}  // namespace

check::ReadingCounts countsOf(const std::vector<reading::Reads>& holes) {
  const auto count = [&](reading::Reads reads) {
    return static_cast<int>(std::count(holes.begin(), holes.end(), reads));
  };
  return {count(reading::Reads::shows), count(reading::Reads::faint), count(reading::Reads::lost)};
}

Advice adviseOn(const AdviceTask& task, const ShotReader& read) { return Adviser(task, read).run(); }

}  // namespace petalproof::advice
