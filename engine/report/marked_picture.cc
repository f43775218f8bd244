#include "engine/report/marked_picture.h"

#include "engine/base/length_text.h"
#include "engine/camera/projection.h"
#include "engine/picture/picture.h"
#include "engine/report/internal/gap_marks.h"
#include "engine/report/internal/label_places.h"
#include "engine/report/internal/projected_outlines.h"
#include "engine/report/internal/sheet.h"
#include "engine/report/internal/shot_words.h"
#include "engine/report/internal/spots.h"

#include <fmt/format.h>
#include <glm/common.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::report {
namespace {

constexpr double longest_side_share = 1.25;  // of the root of the area

// Wide and tall pictures are limited by their longer side.
int widthFor(const camera::Camera& camera, double area_px) {
  const double ratio = static_cast<double>(camera.width_px) / camera.height_px;
  const double longest = longest_side_share * std::sqrt(area_px);
  const double width = std::min({std::sqrt(area_px * ratio), longest, longest * ratio});
  return std::max(16, static_cast<int>(std::lround(width)));
}

reading::Reads readsOf(const check::ShotCheck& shot, std::size_t hole) {
  return hole < shot.readings.size() ? shot.readings[hole].reads : reading::Reads::shows;
}

check::ReadingCounts countsOf(const check::ShotCheck& shot) {
  if (!shot.readings.empty()) return check::countsOf(shot.readings);
  return {static_cast<int>(shot.found.holes.size()), 0, 0};
}

KeyEntry keyOf(reading::Reads reads, std::string meaning) {
  return {[reads](Drawing& drawing, const PixelRect& place) {
            const std::array<glm::dvec2, 2> line{glm::dvec2(place.left + 3, place.middle().y),
                                                 glm::dvec2(place.right() - 3, place.middle().y)};
            drawMark(drawing, line, {reads, false});
          },
          std::move(meaning)};
}

std::vector<KeyEntry> keyFor(const check::ReadingCounts& counts) {
  std::vector<KeyEntry> key;
  if (counts.show > 0)
    key.push_back(
        keyOf(reading::Reads::shows, fmt::format("{} {}", counts.show, counts.show == 1 ? "shows" : "show")));
  if (counts.faint > 0) key.push_back(keyOf(reading::Reads::faint, fmt::format("{} faint", counts.faint)));
  if (counts.lost > 0)
    key.push_back(keyOf(reading::Reads::lost, fmt::format("{} lost, not numbered", counts.lost)));
  return key;
}

std::string findingOf(const check::ReadingCounts& counts, const Spots& spots, const gaps::Specks& specks) {
  const auto spot_count = static_cast<std::int64_t>(spots.spots.size());
  if (spot_count > 0) {
    return fmt::format("{}, {} faint, in {}", counted(counts.show, "hole shows", "holes show"),
                       counted(counts.faint, "is", "are"), counted(spot_count, "spot", "spots"));
  }
  if (counts.show + counts.faint > 0)
    return fmt::format("Only {}", counted(spots.slivers, "sliver", "slivers"));
  if (counts.lost > 0) return "Nothing that anyone would notice";
  if (specks.count > 0)
    return fmt::format("Only {} too small to mark", counted(specks.count, "speck", "specks"));
  return "Nothing bare is seen";
}

std::string sliverNote(const Spots& spots, Units units) {
  if (spots.slivers == 0) return "";
  return fmt::format("{} under {} wide {} outlined thinly and not numbered.",
                     counted(spots.slivers, "hole", "holes"), tapeText(sliver_mm, units),
                     spots.slivers == 1 ? "is" : "are");
}

std::string frameNote(const check::ShotCheck& shot, Units units) {
  const std::string sides = offWallWords(shot.off, units);
  if (sides.empty()) return "The frame stays on the wall on all sides.";
  const std::string remedy = remedyWords(shot, units);
  return fmt::format("The frame runs off the wall: {}.{}", sides,
                     remedy.empty() ? "" : fmt::format(" It stays on the wall {}.", remedy));
}

struct Label {
  std::string number;
  LabelPlace place;
};

// In pixels of the picture.
struct Labels {
  std::vector<Label> labels;
  std::int64_t without_room = 0;
};

// Labels of all spots that have room, worst first.
Labels labelsFor(const Spots& spots, const std::vector<PixelOutline>& outlines, glm::ivec2 picture_px) {
  const Drawing measure(1, 1, sheet_paper);
  std::vector<LabelRequest> requests;
  std::vector<std::string> numbers;
  for (const Spot& spot : spots.spots) {
    const PixelOutline& outline = outlines[static_cast<std::size_t>(spot.holes.front())];
    if (outline.empty()) continue;
    numbers.push_back(std::to_string(spot.number));
    requests.push_back({outline, labelSize(measure, numbers.back())});
  }
  const PixelRect inside{0, 0, static_cast<double>(picture_px.x), static_cast<double>(picture_px.y)};
  const auto places = placeLabels(requests, outlines, inside);
  Labels labels;
  for (std::size_t k = 0; k < places.size(); ++k) {
    if (places[k])
      labels.labels.push_back({numbers[k], *places[k]});
    else
      ++labels.without_room;
  }
  return labels;
}

SheetText wordsFor(const check::ShotCheck& shot, const Spots& spots, const plan::LoadedPlan& loaded,
                   std::int64_t without_room, const std::string& state) {
  const check::ReadingCounts counts = countsOf(shot);
  const Units units = loaded.plan.units;
  SheetText text;
  text.title = onOneLine(shot.shot.label.empty() ? shot.shot.name : shot.shot.label);
  text.details = {
      fmt::format("{}, shot \"{}\"{}{}", onOneLine(loaded.plan.title), onOneLine(shot.shot.name),
                  state.empty() ? "" : ", ", state),
      fmt::format("{}, {}, {}", lensWords(shot), sensorWords(shot.shot), distanceWords(shot.shot, units))};
  text.finding = findingOf(counts, spots, shot.found.specks);
  text.key = keyFor(counts);
  text.notes = {frameNote(shot, units)};
  if (const std::string note = sliverNote(spots, units); !note.empty()) text.notes.push_back(note);
  if (!spots.spots.empty()) {
    text.notes.push_back(
        fmt::format("A number stands for its hole and those within {} of it, as in the table.",
                    tapeText(spot_reach_mm, units)));
  }
  if (without_room > 0) {
    text.notes.push_back(fmt::format("There is no room for the numbers of the {} least; the table has them.",
                                     counted(without_room, "spot", "spots")));
  }
  if (!shot.shot.people.empty()) {
    text.notes.push_back("People are drawn see-through; holes behind them are marked too.");
  }
  return text;
}

void drawLabels(Drawing& drawing, const Labels& labels) {
  for (const Label& label : labels.labels) drawLeader(drawing, label.place);
  for (const Label& label : labels.labels) drawLabel(drawing, label.place, label.number);
}

void drawOutlines(Drawing& drawing, const check::ShotCheck& shot, const std::vector<PixelOutline>& outlines) {
  const auto style = [&shot](std::size_t k) {
    return markStyleOf(shot.found.holes[k].whole, readsOf(shot, k));
  };
  for (std::size_t k = 0; k < outlines.size(); ++k) drawMarkHalo(drawing, outlines[k], style(k));
  for (std::size_t k = 0; k < outlines.size(); ++k) drawMark(drawing, outlines[k], style(k));
}

}  // namespace

Image markedPicture(const check::ShotCheck& shot, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                    const Pool& pool, double area_px, const std::string& state) {
  picture::PictureOptions options;
  options.width_px = widthFor(shot.camera, area_px);
  const Image picture = picture::renderPicture(scene, shot.camera, shot.shot.people,
                                               camera::wallFrameOf(loaded.plan), pool, options);
  const glm::ivec2 size(picture.width_px, picture.height_px);
  const Spots spots = spotsOf(shot.found, shot.readings);
  const std::vector<PixelOutline> outlines =
      projectedOutlines(shot.found, camera::scaledTo(shot.camera, picture.width_px));
  const Labels labels = labelsFor(spots, outlines, size);
  const SheetText text = wordsFor(shot, spots, loaded, labels.without_room, state);
  const SheetLayout layout = layOut(text, size);
  Drawing drawing = startSheet(text, layout, size);
  drawing.startPart({static_cast<double>(layout.picture_left), static_cast<double>(layout.picture_top),
                     static_cast<double>(size.x), static_cast<double>(size.y)});
  drawing.place(picture, 0, 0);
  drawOutlines(drawing, shot, outlines);
  drawLabels(drawing, labels);
  return drawing.image();
}

}  // namespace petalproof::report
