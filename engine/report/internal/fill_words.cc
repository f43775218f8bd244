#include "engine/report/internal/fill_words.h"

#include "engine/report/internal/shot_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

namespace petalproof::report {
namespace {

std::int64_t oldOnes(const fill::FillResult& result) {
  return std::count_if(result.fillers.begin(), result.fillers.end(),
                       [](const fill::PlacedFiller& filler) { return filler.old; });
}

std::string noneNeededWords(const fill::FillResult& result, std::int64_t old) {
  if (!result.left.empty()) return "No filler can be placed that would help.";
  if (old == 0) return "No fillers are needed.";
  return old == 1 ? "No more fillers are needed: the one that is there does it."
                  : fmt::format("No more fillers are needed: the {} that are there do it.", old);
}

check::ReadingCounts sumOf(const check::Check& check) {
  check::ReadingCounts sum;
  for (const check::ShotCheck& shot : check.shots) {
    const check::ReadingCounts counts = check::countsOf(shot.readings);
    sum.show += counts.show;
    sum.faint += counts.faint;
    sum.lost += counts.lost;
  }
  return sum;
}

bool nothingBare(const check::Check& check) {
  return std::all_of(check.shots.begin(), check.shots.end(), [](const check::ShotCheck& shot) {
    return shot.found.gaps.empty() && shot.found.specks.count == 0;
  });
}

// Of gaps that show or are faint, of all where none was read; each shot's own.
double noticedArea(const check::Check& check) {
  double area = 0;
  for (const check::ShotCheck& shot : check.shots)
    for (const gaps::Gap& gap : shot.found.gaps)
      if (check::readsOf(shot, gap) != reading::Reads::lost) area += gap.area_mm2;
  return area;
}

std::int64_t holesLeft(const fill::FillResult& result) {
  std::set<std::string> left;
  for (const fill::LeftGap& gap : result.left) left.insert(gap.id);
  std::int64_t holes = 0;
  for (const check::ShotCheck& shot : result.after.shots) {
    std::set<int> of_shot;
    for (const gaps::Gap& gap : shot.found.gaps)
      if (left.count(check::idOf(shot, gap)) > 0) of_shot.insert(gap.hole);
    holes += static_cast<std::int64_t>(of_shot.size());
  }
  return holes;
}

// Many slivers may be left of few large holes: so their share is told beside their number.
std::string leftWords(const fill::FillResult& result) {
  const std::string words =
      fmt::format("{} left that no filler hides", counted(holesLeft(result), "hole is", "holes are"));
  const double before = noticedArea(result.before);
  const double after = noticedArea(result.after);
  if (before <= 0 || after <= 0) return words + ".";
  return fmt::format("{}, with {} of the bare area that was noticed before.", words,
                     percentText(after / before));
}

std::string gapsText(double gaps) {
  if (gaps < 0.95) return fmt::format("{:.1f} gaps are left", gaps);
  return counted(std::llround(gaps), "gap is left", "gaps are left");
}

}  // namespace

std::string countWords(const fill::FillResult& result) {
  const std::int64_t old = oldOnes(result);
  if (result.count == 0) return noneNeededWords(result, old);
  std::string words = counted(result.count, "filler", "fillers");
  if (old > 0)
    words = fmt::format("{} ({} there already)", counted(result.count, "more filler", "more fillers"),
                        counted(old, "is", "are"));
  if (result.at_least >= result.count) return words + ", and no placement hides the same with fewer.";
  if (result.at_least > 0)
    words += fmt::format("; no placement hides the same with fewer than {}", result.at_least);
  return words + ".";
}

std::string proofWords(const fill::FillResult& result) {
  if (!result.left.empty()) return leftWords(result);
  const auto shots = static_cast<std::int64_t>(result.after.shots.size());
  const std::string where = shots == 1 ? "in the shot" : fmt::format("in any of the {} shots", shots);
  const std::string with = result.fillers.empty() ? "As it is" : "With them";
  if (nothingBare(result.after)) return fmt::format("{} nothing bare is seen {}.", with, where);
  const check::ReadingCounts counts = sumOf(result.after);
  if (counts.show == 0 && counts.faint == 0)
    return fmt::format("{} no hole shows or is faint {}.", with, where);
  if (counts.show == 0)
    return fmt::format("{} no hole shows {}; {} faint.", with, where, counted(counts.faint, "is", "are"));
  return fmt::format("{} {}.", with, counted(counts.show, "hole shows", "holes show"));
}

std::string handsWords(const fill::FillResult& result) {
  if (!result.hands) return "";
  const fill::HandsReport& hands = *result.hands;
  std::string words = fmt::format(
      "Hands as [hands] says: of {} simulated builds, none of them used to find the fillers, {} are clean in "
      "every shot. So at least {} of all such walls are, with {:.0f} % confidence; {} in {} were asked for.",
      hands.builds, hands.clean, percentText(hands.at_least), 100 * hands.confidence, hands.asked.clean,
      hands.asked.of);
  if (hands.clean_but_left > hands.clean)
    words +=
        fmt::format(" Where even perfect hands leave gaps, these show there too; but for those {} are clean.",
                    hands.clean_but_left);
  if (hands.clean < hands.builds)
    words += fmt::format(" On the average {} in such a wall, all shots taken together.",
                         gapsText(hands.gaps_each));
  if (hands.costs > 0)
    words += fmt::format(" Perfect hands would do with {} fewer.", counted(hands.costs, "filler", "fillers"));
  return words;
}

std::string sitsOnWords(const std::string& over) {
  if (over.find('+') != std::string::npos) return "crossing " + over;
  return (over.find_first_of("|/") != std::string::npos ? "seam " : "panel ") + over;
}

std::string kindWords(const plan::Plan& plan, int kind) {
  const plan::Bloom& bloom = plan.blooms[static_cast<std::size_t>(kind)];
  return onOneLine(bloom.label.empty() ? bloom.name : bloom.label);
}

std::string minutesText(double minutes) {
  const auto whole = std::llround(minutes);
  if (whole < 60) return fmt::format("{} min", whole);
  return whole % 60 == 0 ? fmt::format("{} h", whole / 60)
                         : fmt::format("{} h {} min", whole / 60, whole % 60);
}

}  // namespace petalproof::report
