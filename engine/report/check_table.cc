#include "engine/report/check_table.h"

#include "engine/base/length_text.h"
#include "engine/report/advice_words.h"
#include "engine/report/internal/gap_words.h"
#include "engine/report/internal/shot_words.h"
#include "engine/report/internal/spots.h"
#include "engine/report/internal/text_columns.h"
#include "engine/report/internal/worst_places.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <span>

namespace petalproof::report {
namespace {

struct TableContext {
  const scene::PanelGrid& panels;
  Units units;
  ListedSpots listed;
};

constexpr std::size_t spot_indent = 9;

const gaps::Gap& worstOf(const Spot& spot, const check::ShotCheck& shot) {
  return shot.found.holes[static_cast<std::size_t>(spot.holes.front())].whole;
}

std::string headOf(const plan::LoadedPlan& loaded, const scene::Scene& scene) {
  const auto panels =
      std::count(scene.panels.has_panel.cells().begin(), scene.panels.has_panel.cells().end(), 1);
  const auto fillers =
      std::count_if(scene.blooms.begin(), scene.blooms.end(),
                    [](const scene::BloomInstance& bloom) { return bloom.panel_column < 0; });
  const auto blooms = static_cast<std::int64_t>(scene.blooms.size()) - fillers;
  std::string head = fmt::format("{}\n", onOneLine(loaded.plan.title));
  head += fmt::format("{}, {}{}; the wall is {} wide and {} high.\n", counted(panels, "panel", "panels"),
                      counted(blooms, "bloom", "blooms"),
                      fillers > 0 ? fmt::format(", {}", counted(fillers, "filler", "fillers")) : "",
                      tapeText(scene.panels.width_mm(), loaded.plan.units),
                      tapeText(scene.panels.height_mm(), loaded.plan.units));
  if (scene.panels.ground_covered) head += "The board is covered, so only its seams count as bare.\n";
  return head;
}

std::string sharesLine(const visibility::PictureShares& shares, bool covered) {
  return labelled("Picture", fmt::format("blooms {}, {} {}, seams {}, behind {}, off the wall {}",
                                         percentText(shares.bloom), covered ? "covered board" : "bare board",
                                         percentText(shares.board), percentText(shares.seam),
                                         percentText(shares.behind), percentText(shares.off)));
}

std::string peopleLines(const check::ShotCheck& shot, Units units) {
  const std::string room = labelled("Room for", roomWords(shot.room, units));
  if (shot.shot.people.empty()) return room;
  return labelled("People", fmt::format("hide {} of the picture", percentText(shot.shares.people))) + room;
}

std::string offWallLines(const check::ShotCheck& shot, Units units) {
  const std::string sides = offWallWords(shot.off, units);
  if (sides.empty()) return labelled("Frame", "stays on the wall on all sides");
  const std::string remedy = remedyWords(shot, units);
  return labelled("Frame", "runs off the wall: " + sides) +
         labelled("", remedy.empty()
                          ? "as it is aimed, neither coming closer nor a longer lens keeps it on the wall"
                          : "it stays on the wall " + remedy);
}

// "212 slivers (under 1/8 in wide and 3 in long, 18 of them show), 31 lost in the picture and 4 specks
// (...)", whatever there is of them.
std::string leftOverWords(const check::ShotCheck& shot, const Spots& spots, Units units) {
  std::vector<std::string> parts;
  if (spots.slivers > 0) {
    const std::string showing = spots.slivers_showing == 0
                                    ? ""
                                    : fmt::format(", {} of them {}", spots.slivers_showing,
                                                  spots.slivers_showing == 1 ? "shows" : "show");
    parts.push_back(fmt::format("{} (under {} wide and {} long{})",
                                counted(spots.slivers, "sliver", "slivers"), tapeText(sliver_mm, units),
                                tapeText(sliver_length_mm, units), showing));
  }
  if (spots.lost > 0) parts.push_back(fmt::format("{} lost in the picture", spots.lost));
  if (shot.found.specks.count > 0) {
    parts.push_back(counted(shot.found.specks.count, "speck", "specks") + " (under 1 mm wide or 4 pixels)");
  }
  if (parts.size() < 2) return parts.empty() ? "" : parts.front();
  const std::string last = parts.back();
  parts.pop_back();
  return fmt::format("{} and {}", fmt::join(parts, ", "), last);
}

std::string spotWords(const gaps::Gap& gap, const TableContext& context) {
  return fmt::format("{}, {}", whereInWords(gap, context.panels, context.units),
                     sizeInWords(gap, context.units));
}

// "none of 200 builds", "13 of 200 builds", "all 200 builds".
std::string countOfBuilds(int count, int builds) {
  if (count == builds) return fmt::format("all {} builds", builds);
  return count == 0 ? fmt::format("none of {} builds", builds)
                    : fmt::format("{} of {} builds", count, builds);
}

// "no hole shows in 13 of 200 builds".
std::string cleanWords(int clean, int builds) {
  if (clean == 0) return fmt::format("a hole shows in all {} builds", builds);
  return fmt::format("no hole shows in {}", countOfBuilds(clean, builds));
}

// What simulated builds make of a shot; nulls where there were none.
struct InBuilds {
  const check::BuildsCheck* all = nullptr;
  const check::ShotInBuilds* shot = nullptr;
};

// Builds in which that gap of the hole shows that does so most often.
int buildsShowing(const check::ShotCheck& shot, const gaps::Gap& hole, const check::ShotInBuilds& in) {
  int most = 0;
  for (const std::size_t gap : shot.found.holes[static_cast<std::size_t>(hole.number) - 1].gaps)
    most = std::max(most, in.shows[gap]);
  return most;
}

// "97 of 100 pieces of paper stand out less".
std::string oddWords(double odder_than) {
  const auto pieces = static_cast<int>(100 * odder_than);
  return fmt::format("{} of 100 pieces of paper {} out less", pieces, pieces == 1 ? "stands" : "stand");
}

std::string remarkWords(const check::ShotCheck& shot, const Spot& spot, const InBuilds& in, Units units) {
  const gaps::Gap& worst = worstOf(spot, shot);
  std::vector<std::string> remarks;
  if (in.shot != nullptr)
    remarks.push_back(
        fmt::format("shows in {}", countOfBuilds(buildsShowing(shot, worst, *in.shot), in.all->builds)));
  if (!shot.readings.empty() && shot.pieces && shot.pieces->says())
    remarks.push_back(oddWords(shot.readings[static_cast<std::size_t>(spot.holes.front())].odder_than));
  if (worst.behind_people) remarks.push_back("behind people");
  if (spot.holes.size() > 1) {
    remarks.push_back(
        fmt::format("and {} more within {}", spot.holes.size() - 1, tapeText(spot_reach_mm, units)));
  }
  return fmt::format("{}", fmt::join(remarks, ", "));
}

// "     95  shows  " before the words; without a reading the number alone.
std::string spotHead(const Spot& spot, const check::ShotCheck& shot) {
  if (shot.readings.empty()) return fmt::format("{:>7}  ", spot.number);
  const reading::Reading& reading = shot.readings[static_cast<std::size_t>(spot.holes.front())];
  return fmt::format("{:>5}  {}  ", spot.number, nameOf(reading.reads));
}

// The remark in a column of its own where there is room, else below.
std::string spotLine(const std::string& head, const std::string& words, std::size_t column,
                     const std::string& remark) {
  if (remark.empty()) return hanging(head, words);
  if (head.size() + column + 2 + remark.size() <= table_width)
    return fmt::format("{}{:<{}}  {}\n", head, words, column, remark);
  return hanging(head, words) + hanging(std::string(head.size() + 2, ' '), remark);
}

// "45 more spots, 12 of which show; --all lists them".
std::string unlistedWords(const check::ShotCheck& shot, std::span<const Spot> spots) {
  const auto count = static_cast<std::int64_t>(spots.size());
  const std::string more = count == 1 ? "1 more spot" : fmt::format("{} more spots", count);
  const char* const them = count == 1 ? "it" : "them";
  if (shot.readings.empty()) return fmt::format("{}; --all lists {}", more, them);
  const auto showing = std::count_if(spots.begin(), spots.end(), [&](const Spot& spot) {
    return shot.readings[static_cast<std::size_t>(spot.holes.front())].reads == reading::Reads::shows;
  });
  const std::string of_which = showing == 0 ? "none" : showing == count ? "all" : std::to_string(showing);
  const char* const show = showing == 1 ? "shows" : "show";
  if (count == 1) return fmt::format("{}, {}; --all lists it", more, showing == 0 ? "faint" : "which shows");
  return fmt::format("{}, {} of which {}; --all lists them", more, of_which, show);
}

std::string spotLines(const check::ShotCheck& shot, const InBuilds& in, const Spots& spots,
                      const TableContext& context) {
  const std::size_t count = context.listed == ListedSpots::all
                                ? spots.spots.size()
                                : std::min(spots.spots.size(), most_listed_spots);
  const std::span<const Spot> listed = std::span<const Spot>(spots.spots).first(count);
  std::vector<std::string> words;
  std::size_t column = 0;
  for (const Spot& spot : listed) {
    words.push_back(spotWords(worstOf(spot, shot), context));
    column = std::max(column, words.back().size());
  }
  std::string lines;
  for (std::size_t k = 0; k < count; ++k)
    lines += spotLine(spotHead(listed[k], shot), words[k], column,
                      remarkWords(shot, listed[k], in, context.units));
  if (count < spots.spots.size())
    lines += hanging(std::string(spot_indent, ' '),
                     "and " + unlistedWords(shot, std::span<const Spot>(spots.spots).subspan(count)));
  return lines;
}

// "8 holes show, 3 of them in the open, 19 are faint, 9 are lost"; without readings their number.
std::string readsWords(const check::ShotCheck& shot, std::int64_t holes) {
  if (shot.readings.empty()) return counted(holes, "hole", "holes");
  const check::ReadingCounts counts = check::countsOf(shot.readings);
  const auto are = [](int count) { return count == 1 ? "is" : "are"; };
  const int open = check::showInTheOpen(shot);
  const std::string in_the_open =
      open == counts.show
          ? ""
          : fmt::format(", {} of them in the open", open == 0 ? "none" : std::to_string(open));
  return fmt::format("{} {}{}; {} {} faint, {} {} lost", counted(counts.show, "hole", "holes"),
                     counts.show == 1 ? "shows" : "show", in_the_open, counts.faint, are(counts.faint),
                     counts.lost, are(counts.lost));
}

std::string gapLines(const check::ShotCheck& shot, const InBuilds& in, const TableContext& context) {
  const Spots spots = spotsOf(shot.found, shot.readings);
  const std::string left_over = leftOverWords(shot, spots, context.units);
  if (shot.found.gaps.empty() && left_over.empty()) return labelled("Holes", "none: nothing bare is seen");
  if (spots.spots.empty() && spots.lost == 0)
    return labelled("Holes", fmt::format("none {} wide or wider, only {}", tapeText(sliver_mm, context.units),
                                         left_over));
  if (spots.spots.empty())
    return labelled("Holes", fmt::format("none that anyone would notice: {}", left_over));
  const auto holes = static_cast<std::int64_t>(shot.found.holes.size()) - spots.slivers;
  std::string lines =
      labelled("Holes", fmt::format("{}; in {}, worst first:", readsWords(shot, holes),
                                    counted(static_cast<std::int64_t>(spots.spots.size()), "spot", "spots")));
  lines += spotLines(shot, in, spots, context);
  if (!left_over.empty()) lines += hanging(std::string(spot_indent, ' '), "and " + left_over);
  return lines;
}

std::string focusLines(const check::ShotCheck& shot, Units units) {
  const std::string words = focusWords(shot, units);
  const std::string unsharp = unsharpWords(shot, units);
  return (words.empty() ? "" : labelled("Focus", words)) + (unsharp.empty() ? "" : labelled("", unsharp));
}

std::string buildLine(const InBuilds& in) {
  if (in.shot == nullptr) return "";
  std::string words = cleanWords(in.shot->clean, in.all->builds);
  if (in.shot->elsewhere > 0)
    words += fmt::format("; one shows where the plan has none in {}",
                         countOfBuilds(in.shot->elsewhere, in.all->builds));
  return labelled("Hands", words);
}

std::string shotLines(const check::ShotCheck& shot, const InBuilds& in, const TableContext& context) {
  std::string lines = headingOf(shot.shot) + "\n";
  lines += labelled("Camera", fmt::format("{}, {}; {}; {}", lensWords(shot), sensorWords(shot.shot),
                                          distanceWords(shot.shot, context.units), pictureSizeWords(shot)));
  lines += focusLines(shot, context.units);
  if (shot.viewing.width_mm > 0) lines += labelled("Looked at", viewingWords(shot, context.units));
  lines += sharesLine(shot.shares, context.panels.ground_covered);
  lines += offWallLines(shot, context.units);
  lines += peopleLines(shot, context.units);
  for (const std::string& warning : shot.warnings) lines += labelled("Warning", onOneLine(warning));
  lines += buildLine(in);
  lines += gapLines(shot, in, context);
  return lines;
}

constexpr std::size_t fix_first_count = 10;

std::string placeWords(const WorstPlace& place, std::size_t shots, std::size_t column, Units units) {
  const std::string owner = ownerInWords(place.owner);
  const std::string widest = fmt::format("up to {} wide", tapeText(place.widest_mm, units));
  if (shots == 1) return fmt::format("{:<{}}  {}", owner, column, widest);
  return fmt::format("{:<{}}  in {} of {} shots, {}", owner, column, place.shots, shots, widest);
}

std::string fixFirstLines(const check::Check& check, Units units) {
  const std::vector<WorstPlace> places = worstPlaces(check);
  const std::size_t shown = std::min(places.size(), fix_first_count);
  std::size_t column = 0;
  for (std::size_t k = 0; k < shown; ++k) column = std::max(column, ownerInWords(places[k].owner).size());
  std::string lines;
  for (std::size_t k = 0; k < shown; ++k) {
    lines += labelled(k == 0 ? "Fix first" : "", placeWords(places[k], check.shots.size(), column, units));
  }
  if (places.size() > shown) {
    const auto rest = static_cast<std::int64_t>(places.size() - shown);
    lines += labelled("", fmt::format("and {}", counted(rest, "more place", "more places")));
  }
  return lines;
}

std::string summaryLines(const check::Check& check, const TableContext& context) {
  const double bare = check.bare.bare_mm2();
  const double wall = context.panels.width_mm() * context.panels.height_mm();
  const auto shots = static_cast<std::int64_t>(check.shots.size());
  std::string lines = shots == 1 ? "Summary\n" : fmt::format("All {} shots\n", shots);
  if (bare > 0) {
    lines += labelled("Bare", fmt::format("{} of the wall ({}), each place counted once",
                                          areaText(bare, context.units), percentText(bare / wall)));
  }
  lines += fixFirstLines(check, context.units);
  if (check.builds)
    lines += labelled("Hands",
                      cleanWords(check.builds->clean, check.builds->builds) + ", all shots taken together");
  const bool any = std::any_of(check.shots.begin(), check.shots.end(), [](const check::ShotCheck& shot) {
    return !shot.found.gaps.empty() || shot.found.specks.count > 0;
  });
  if (!any)
    lines += labelled("Holes", shots == 1 ? "nothing bare is seen" : "nothing bare is seen in any shot");
  return lines;
}

}  // namespace

std::string checkTable(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                       ListedSpots listed, const advice::Advice* advice) {
  const TableContext context{scene.panels, loaded.plan.units, listed};
  std::string table = headOf(loaded, scene);
  for (const std::string& warning : check.warnings) table += fmt::format("Warning: {}\n", onOneLine(warning));
  for (std::size_t k = 0; k < check.shots.size(); ++k) {
    const InBuilds in = check.builds ? InBuilds{&*check.builds, &check.builds->shots[k]} : InBuilds{};
    table += fmt::format("\n{}", shotLines(check.shots[k], in, context));
  }
  table += fmt::format("\n{}", summaryLines(check, context));
  if (advice != nullptr) table += fmt::format("\n{}", adviceLines(*advice, context.units));
  return table;
}

}  // namespace petalproof::report
