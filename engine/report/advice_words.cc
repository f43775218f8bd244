#include "engine/report/advice_words.h"

#include "engine/base/length_text.h"
#include "engine/report/internal/shot_words.h"
#include "engine/report/internal/text_columns.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::report {
namespace {

constexpr std::size_t most_colours = 3;

std::string walked(Length length, Units units) { return walkText(toMillimetres(length, units), units); }

std::string besideCentre(Length right, Units units) {
  const std::string distance = tapeText(std::abs(toMillimetres(right, units)), units);
  if (distance == "0 " + std::string(unitName(units))) return "on the centre line";
  return fmt::format("{} {} of the centre line", distance, right.value < 0 ? "left" : "right");
}

// "the people 6 ft", "the people 4 ft to 6 ft".
std::string peopleFromWall(const plan::Shot& shot, Units units) {
  const auto byOut = [](const plan::Person& a, const plan::Person& b) {
    return a.out_from_board < b.out_from_board;
  };
  const auto [nearest, farthest] = std::minmax_element(shot.people.begin(), shot.people.end(), byOut);
  const std::string near = walked(nearest->out_from_board, units);
  const std::string far = walked(farthest->out_from_board, units);
  return near == far ? "the people " + near : fmt::format("the people {} to {}", near, far);
}

std::string standing(const plan::Shot& shot, Units units) {
  return fmt::format("{}, {} above the floor, {} from the wall, aimed {} and {} above the floor",
                     besideCentre(shot.camera_right, units),
                     tapeText(toMillimetres(shot.camera_above_floor, units), units),
                     walked(shot.camera_out, units), besideCentre(shot.aim_right, units),
                     tapeText(toMillimetres(shot.aim_above_floor, units), units));
}

std::string lensOnly(const plan::Shot& shot) {
  return fmt::format("{:g} mm{}", shot.lens.mm, shot.lens.full_frame_equivalent ? " equivalent" : "");
}

std::string lensChangeWords(const advice::ShotChange& change, bool zoom_end, Units units) {
  if (zoom_end) return fmt::format("with the zoom at {}", lensOnly(change.shot));
  return fmt::format("with a lens of {} from {}, the people as large as now: {}", lensOnly(change.shot),
                     walked(change.shot.camera_out, units), standing(change.shot, units));
}

std::string holesShow(int count) { return counted(count, "hole shows", "holes show"); }

// "; the six largest are 85 % of what shows: those first", where they are most of it.
std::string largestWords(const advice::ShotAdvice& advice) {
  constexpr double most = 0.5;
  if (advice.now.show <= 6 || advice.six_largest <= most) return "";
  return fmt::format("; the six largest are {} of what shows: those first", percentText(advice.six_largest));
}

std::string triedWords(int changes) {
  if (changes == 0) return "there is no change to try that keeps its framing";
  if (changes == 1) return "the one change tried leaves some";
  return fmt::format("each of the {} changes tried leaves some", changes);
}

std::string adviceOnShot(const advice::ShotAdvice& advice, Units units) {
  if (advice.remedy)
    return fmt::format("{} now, none {}", holesShow(advice.now.show),
                       changeWords(advice.remedy->change, units));
  const std::string tried = triedWords(advice.tried);
  if (!advice.best) return fmt::format("{}; {}{}", holesShow(advice.now.show), tried, largestWords(advice));
  return fmt::format("{} now; {}; fewest, {}, {}{}", holesShow(advice.now.show), tried,
                     advice.best->counts.show, changeWords(advice.best->change, units), largestWords(advice));
}

std::string colourName(const advice::BoardColour& board) {
  return fmt::format("{} ({})", onOneLine(board.name), toHex(board.colour));
}

// Of those that show now: "31 of the 36 that show are lost, 3 faint; 2 still show".
std::string becomesOf(const check::ReadingCounts& of_showing) {
  const int all = of_showing.show + of_showing.faint + of_showing.lost;
  std::string words = fmt::format("{} of the {} holes that show {} lost", of_showing.lost, all,
                                  of_showing.lost == 1 ? "is" : "are");
  if (of_showing.faint > 0) words += fmt::format(", {} faint", of_showing.faint);
  return words + (of_showing.show > 0 ? fmt::format(", {} still show", of_showing.show) : "");
}

std::string colourLines(const advice::Advice& advice) {
  std::string lines;
  std::size_t said = 0;
  for (const advice::TriedColour& tried : advice.colours) {
    if (said == most_colours || !advice::worthSaying(tried.counts.show, advice.now.show)) break;
    const std::string words =
        said == 0
            ? fmt::format("cover them in {} and {}", colourName(tried.board), becomesOf(tried.of_showing))
            : fmt::format("or in {}: {}", colourName(tried.board), becomesOf(tried.of_showing));
    lines += labelled(said == 0 ? "Boards" : "", words);
    ++said;
  }
  if (said > 0) return lines;
  return labelled("Boards", fmt::format("no other colour does much better than their own; {} tried",
                                        advice.colours.size()));
}

}  // namespace

std::string changeWords(const advice::ShotChange& change, Units units) {
  const std::string step = walkText(std::abs(change.amount), units);
  const bool less = change.amount < 0;
  switch (change.kind) {
    case advice::ChangeKind::people:
      return fmt::format("with everybody and the camera {} farther from the wall: {}, the camera {} from it",
                         step, peopleFromWall(change.shot, units), walked(change.shot.camera_out, units));
    case advice::ChangeKind::side:
      return fmt::format("with the camera {} farther {}: {}", step, less ? "left" : "right",
                         standing(change.shot, units));
    case advice::ChangeKind::height:
      return fmt::format("with the camera {} {}: {}", step, less ? "lower" : "higher",
                         standing(change.shot, units));
    case advice::ChangeKind::distance:
      return fmt::format("with the camera {} {}: {}", step, less ? "nearer" : "farther away",
                         standing(change.shot, units));
    case advice::ChangeKind::lens: return lensChangeWords(change, change.zoom_end, units);
    case advice::ChangeKind::stop: return fmt::format("at f/{:g}", change.amount);
  }
  return "";
}

std::string adviceLines(const advice::Advice& advice, Units units) {
  std::string lines = "What would help\n";
  if (advice.now.show == 0) return lines + labelled("", "nothing needs to: no hole shows in any shot");
  for (const advice::ShotAdvice& shot : advice.shots)
    lines += labelled(onOneLine(shot.shot), adviceOnShot(shot, units));
  return lines + colourLines(advice);
}

}  // namespace petalproof::report
