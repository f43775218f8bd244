#include "engine/report/internal/label_places.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <random>

namespace petalproof {
namespace {

const report::PixelRect picture{60, 200, 1600, 1067};

std::vector<glm::dvec2> squareAt(glm::dvec2 at, double half) {
  return {at - half, at + glm::dvec2(half, -half), at + half, at + glm::dvec2(-half, half), at - half};
}

std::vector<report::LabelRequest> scattered(int count, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> x(picture.left, picture.right());
  std::uniform_real_distribution<double> y(picture.top, picture.bottom());
  std::uniform_real_distribution<double> half(2, 40);
  std::vector<report::LabelRequest> requests;
  for (int k = 0; k < count; ++k)
    requests.push_back({squareAt({x(random), y(random)}, half(random)), {44, 27}});
  return requests;
}

void checkApartAndInside(const std::vector<std::optional<report::LabelPlace>>& places, double apart_px) {
  for (std::size_t k = 0; k < places.size(); ++k) {
    if (!places[k]) continue;
    const report::PixelRect& rect = places[k]->rect;
    CHECK(rect.left >= picture.left + apart_px);
    CHECK(rect.top >= picture.top + apart_px);
    CHECK(rect.right() <= picture.right() - apart_px);
    CHECK(rect.bottom() <= picture.bottom() - apart_px);
    for (std::size_t j = 0; j < k; ++j) {
      if (places[j]) CHECK_FALSE(report::overlap(rect, places[j]->rect));
    }
  }
}

TEST_CASE("two hundred labels stand inside the picture and none over another") {
  for (unsigned seed = 0; seed < 5; ++seed) {
    CAPTURE(seed);
    const auto places = report::placeLabels(scattered(200, seed), {}, picture);
    REQUIRE(places.size() == 200);
    for (const auto& place : places) CHECK(place.has_value());
    checkApartAndInside(places, 4);
  }
}

TEST_CASE("two hundred gaps in one corner still have a label each") {
  std::vector<report::LabelRequest> requests;
  for (int k = 0; k < 200; ++k)
    requests.push_back({squareAt({70.0 + k % 20, 210.0 + k / 20.0}, 1), {44, 27}});
  const auto places = report::placeLabels(requests, {}, picture);
  for (const auto& place : places) CHECK(place.has_value());
  checkApartAndInside(places, 4);
}

TEST_CASE("where there is no room left, the worst have their labels and the rest none") {
  const auto places = report::placeLabels(scattered(3000, 1), {}, picture);
  std::size_t placed = 0;
  for (const auto& place : places) placed += place ? 1 : 0;
  CHECK(places.front().has_value());
  CHECK(placed > 500);
  CHECK(placed < 3000);
  checkApartAndInside(places, 4);
}

TEST_CASE("a label alone stands close by, off the outline, and its leader ends on it") {
  const report::LabelRequest request{squareAt({800, 700}, 30), {44, 27}};
  const auto places = report::placeLabels({request}, {}, picture);
  REQUIRE(places[0].has_value());
  const report::PixelRect square{770, 670, 60, 60};
  CHECK_FALSE(report::overlap(places[0]->rect, square));
  CHECK(glm::distance(places[0]->rect.middle(), glm::dvec2(800, 700)) < 80);
  const glm::dvec2 from_middle = glm::abs(places[0]->tip - glm::dvec2(800, 700));
  CHECK(std::max(from_middle.x, from_middle.y) == doctest::Approx(30));
}

TEST_CASE("a label keeps off other outlines where it can") {
  const report::LabelRequest request{squareAt({800, 700}, 5), {44, 27}};
  // Every direction but down is full of outlines.
  std::vector<std::vector<glm::dvec2>> others;
  for (double y = 600; y < 700; y += 5) others.push_back({{700, y}, {900, y}});
  for (double x = 700; x < 780; x += 5) others.push_back({{x, 690}, {x, 720}});
  for (double x = 820; x < 900; x += 5) others.push_back({{x, 690}, {x, 720}});
  const auto places = report::placeLabels({request}, others, picture);
  REQUIRE(places[0].has_value());
  CHECK(places[0]->rect.top > 700);
}

TEST_CASE("a gap outside the picture's edge is labelled within") {
  const auto places = report::placeLabels({{squareAt({40, 150}, 30), {44, 27}}}, {}, picture);
  REQUIRE(places[0].has_value());
  checkApartAndInside(places, 4);
}

}  // namespace
}  // namespace petalproof
