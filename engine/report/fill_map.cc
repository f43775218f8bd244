#include "engine/report/fill_map.h"

#include "engine/base/length_text.h"
#include "engine/report/internal/bare_marks.h"
#include "engine/report/internal/fill_words.h"
#include "engine/report/internal/gap_marks.h"
#include "engine/report/internal/hanging_order.h"
#include "engine/report/internal/label_places.h"
#include "engine/report/internal/map_sheet.h"
#include "engine/report/internal/shot_words.h"
#include "engine/scene/shapes.h"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <variant>

namespace petalproof::report {
namespace {

constexpr int ring_corners = 48;
constexpr double least_radius_px = 7;

// About a filler's outline: an ellipse, turned clockwise.
struct Ring {
  glm::dvec2 middle_px;
  double radius_px = 0;  // half of its length
  double width_share = 1;
  double turn_deg = 0;
  fill::When when = fill::When::onTheTable;
  std::string number;

  glm::dvec2 along() const { return {std::sin(radians(turn_deg)), -std::cos(radians(turn_deg))}; }
  glm::dvec2 across() const { return {std::cos(radians(turn_deg)), std::sin(radians(turn_deg))}; }
  bool holds(glm::dvec2 px) const {
    const glm::dvec2 from = (px - middle_px) / radius_px;
    return glm::length(glm::dvec2(glm::dot(from, along()), glm::dot(from, across()) / width_share)) <= 1;
  }
};

double widthShareOf(const plan::Bloom& bloom) {
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  if (shape == nullptr || !scene::factsOf(*shape).has_width) return 1;
  return bloom.width ? bloom.width->value / bloom.diameter.value : scene::factsOf(*shape).width_share;
}

// In pixels of the picture.
std::vector<Ring> ringsOf(const FilledWall& wall, int width_px) {
  const scene::PanelGrid& panels = wall.after.panels;
  const double px_per_mm = width_px / panels.width_mm();
  const std::vector<int> numbers = listNumbers(wall.result.fillers);
  std::vector<Ring> rings;
  for (std::size_t i = 0; i < wall.result.fillers.size(); ++i) {
    const fill::PlacedFiller& filler = wall.result.fillers[i];
    const plan::Bloom& bloom = wall.given.plan.blooms[static_cast<std::size_t>(filler.kind)];
    const double radius = toMillimetres(bloom.diameter, wall.given.plan) / 2 * px_per_mm;
    rings.push_back({{filler.at.mm.x * px_per_mm, (panels.height_mm() - filler.at.mm.y) * px_per_mm},
                     std::max(radius, least_radius_px),
                     widthShareOf(bloom),
                     filler.filler.placement.turn_deg,
                     filler.when,
                     std::to_string(numbers[i])});
  }
  return rings;
}

std::vector<glm::dvec2> outlineOf(const Ring& ring) {
  std::vector<glm::dvec2> outline;
  for (int k = 0; k <= ring_corners; ++k) {
    const double angle = 2 * pi * k / ring_corners;
    outline.push_back(ring.middle_px + ring.radius_px * (ring.along() * std::cos(angle) +
                                                         ring.across() * ring.width_share * std::sin(angle)));
  }
  return outline;
}

void drawRing(Drawing& drawing, std::span<const glm::dvec2> outline, fill::When when) {
  drawing.line(outline, {5, mark_halo, 0.95, {}});
  drawing.line(outline, {2.2, mark_ink, 1,
                         when == fill::When::onTheTable ? std::vector<double>{7, 4} : std::vector<double>{}});
}

// The fillers keep their colours where the rest of the picture is faded.
void bringBack(Image& faded, const Image& picture, const std::vector<Ring>& rings) {
  for (const Ring& ring : rings) {
    const auto from = [](double middle, double radius) {
      return std::max(0, static_cast<int>(std::floor(middle - radius)));
    };
    const int bottom =
        std::min(picture.height_px, static_cast<int>(std::ceil(ring.middle_px.y + ring.radius_px)));
    const int right =
        std::min(picture.width_px, static_cast<int>(std::ceil(ring.middle_px.x + ring.radius_px)));
    for (int y = from(ring.middle_px.y, ring.radius_px); y < bottom; ++y)
      for (int x = from(ring.middle_px.x, ring.radius_px); x < right; ++x) {
        if (!ring.holds({x + 0.5, y + 0.5})) continue;
        const std::size_t at = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width_px) +
                                    static_cast<std::size_t>(x));
        std::copy_n(picture.rgb.begin() + static_cast<std::ptrdiff_t>(at), 3,
                    faded.rgb.begin() + static_cast<std::ptrdiff_t>(at));
      }
  }
}

std::vector<glm::dvec2> outlineOf(const PixelRect& rect) {
  return {{rect.left, rect.top},
          {rect.right(), rect.top},
          {rect.right(), rect.bottom()},
          {rect.left, rect.bottom()},
          {rect.left, rect.top}};
}

// Numbers stand in their ring where they fit and nothing that is to be read stands yet, else beside it.
// `taken`: by panels' names.
void drawNumbers(Drawing& drawing, const std::vector<Ring>& rings,
                 std::vector<std::vector<glm::dvec2>> outlines, std::vector<PixelRect> taken,
                 const PixelRect& inside) {
  std::vector<LabelRequest> outside;
  std::vector<std::string> numbers;
  std::vector<std::pair<PixelRect, std::string>> in_rings;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    const glm::dvec2 size = labelSize(drawing, rings[i].number);
    const PixelRect within{rings[i].middle_px.x - size.x / 2, rings[i].middle_px.y - size.y / 2, size.x,
                           size.y};
    const bool fits = glm::length(size) < 1.8 * rings[i].radius_px * rings[i].width_share &&
                      within.left > 0 && within.top > 0 && within.right() < inside.right() &&
                      within.bottom() < inside.bottom() &&
                      std::none_of(taken.begin(), taken.end(),
                                   [&](const PixelRect& other) { return overlap(within, other); });
    if (fits) {
      taken.push_back(within);
      in_rings.emplace_back(within, rings[i].number);
    } else {
      outside.push_back({outlines[i], size});
      numbers.push_back(rings[i].number);
    }
  }
  for (const PixelRect& rect : taken) outlines.push_back(outlineOf(rect));
  const auto places = placeLabels(outside, outlines, inside);
  for (const auto& place : places)
    if (place) drawLeader(drawing, *place);
  for (const auto& [rect, number] : in_rings) drawLabel(drawing, {rect, rect.middle()}, number);
  for (std::size_t i = 0; i < places.size(); ++i)
    if (places[i]) drawLabel(drawing, *places[i], numbers[i]);
}

KeyEntry ringKey(fill::When when, std::string meaning) {
  return {[when](Drawing& drawing, const PixelRect& place) {
            const Ring ring{place.middle(), std::min(place.width, place.height) / 2 - 2, 1, 0, when, ""};
            drawRing(drawing, outlineOf(ring), when);
          },
          std::move(meaning)};
}

SheetText wordsFor(const FilledWall& wall) {
  const scene::PanelGrid& panels = wall.after.panels;
  const Units units = wall.given.plan.units;
  SheetText text;
  text.title = onOneLine(wall.given.plan.title);
  text.details = {fmt::format("Where the fillers go, seen from the front; the wall is {} wide and {} high",
                              tapeText(panels.width_mm(), units), tapeText(panels.height_mm(), units))};
  text.finding = countWords(wall.result);
  for (const auto& [when, meaning] : {std::pair(fill::When::onTheTable, "on the table"),
                                      std::pair(fill::When::afterTaping, "after taping: it crosses a seam")})
    if (std::any_of(wall.result.fillers.begin(), wall.result.fillers.end(),
                    [when = when](const fill::PlacedFiller& filler) { return filler.when == when; }))
      text.key.push_back(ringKey(when, meaning));
  for (KeyEntry& entry : keyOfBare(wall.result.after.bare)) text.key.push_back(std::move(entry));
  text.notes = {"The numbers are those of the list. " + proofWords(wall.result),
                "The tapes run from the left and from the top edge."};
  return text;
}

}  // namespace

Image fillMap(const FilledWall& wall, const Pool& pool, double area_px) {
  const Image picture = headOnPicture(wall.after, wall.result.filled, pool, area_px);
  const std::vector<Ring> rings = ringsOf(wall, picture.width_px);
  std::vector<std::vector<glm::dvec2>> outlines;
  for (const Ring& ring : rings) outlines.push_back(outlineOf(ring));
  Image faded = picture;
  markBare(faded, wall.result.after.bare);
  bringBack(faded, picture, rings);
  const auto marks = [&](Drawing& drawing, const PixelRect& place) {
    drawing.startPart(place);
    for (std::size_t i = 0; i < rings.size(); ++i) drawRing(drawing, outlines[i], rings[i].when);
    const PixelRect inside{0, 0, place.width, place.height};
    std::vector<PixelRect> taken;
    for (const PanelName& name : panelNames(drawing, inside, wall.after.panels)) taken.push_back(name.place);
    drawNumbers(drawing, rings, outlines, std::move(taken), inside);
  };
  return onMapSheet(faded, wordsFor(wall), wall.after.panels, wall.given.plan.units, marks);
}

}  // namespace petalproof::report
