#include "engine/camera/people_framing.h"

#include "engine/base/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace petalproof::camera {
namespace {

// Where a shot has no people: assumptions.
constexpr double usual_height_mm = 66 * 25.4;
constexpr double usual_out_mm = 48 * 25.4;
constexpr double free_at_each_side = 0.05;  // of the picture's width

Length lengthOf(double mm, Units units) { return {mm / millimetresPer(units)}; }
double mmOf(Length length, const WallFrame& wall) { return toMillimetres(length, wall.units); }

// The people of a shot as a group.
struct Company {
  double middle_mm = 0;  // right of the wall's centre line
  double out_mm = usual_out_mm;
  double breadth_mm = person_breadth_mm;
  double tallest_mm = usual_height_mm;
};

Company companyOf(const std::vector<plan::Person>& people, const WallFrame& wall) {
  Company company;
  if (people.empty()) return company;
  const auto byPlace = [](const plan::Person& a, const plan::Person& b) {
    return a.right_of_centre < b.right_of_centre;
  };
  const auto [left, right] = std::minmax_element(people.begin(), people.end(), byPlace);
  const double left_mm = mmOf(left->right_of_centre, wall);
  const double right_mm = mmOf(right->right_of_centre, wall);
  company.middle_mm = (left_mm + right_mm) / 2;
  company.breadth_mm = right_mm - left_mm + person_breadth_mm;
  company.tallest_mm = 0;
  company.out_mm = 0;
  for (const plan::Person& person : people) {
    company.tallest_mm = std::max(company.tallest_mm, mmOf(person.height, wall));
    company.out_mm += mmOf(person.out_from_board, wall) / static_cast<double>(people.size());
  }
  return company;
}

const FramingFacts& factsOf(Framing framing) {
  return *std::find_if(allFramings().begin(), allFramings().end(),
                       [&](const FramingFacts& facts) { return facts.framing == framing; });
}

}  // namespace

std::span<const FramingFacts> allFramings() {
  static constexpr std::array framings{
      FramingFacts{Framing::headAndShoulders, "head and shoulders", 0.72, 0.10, 0},
      FramingFacts{Framing::halfLength, "half length", 0.52, 0.08, 0},
      FramingFacts{Framing::threeQuarter, "three-quarter", 0.30, 0.07, 0},
      FramingFacts{Framing::fullLength, "full length", 0, 0.06, 0.06}};
  return framings;
}

std::vector<plan::Person> peopleSideBySide(const plan::Shot& shot, int count, const WallFrame& wall) {
  const Company company = companyOf(shot.people, wall);
  std::vector<plan::Person> people;
  for (int k = 0; k < count; ++k) {
    plan::Person person;
    person.height = shot.people.empty()
                        ? lengthOf(usual_height_mm, wall.units)
                        : shot.people[static_cast<std::size_t>(k) % shot.people.size()].height;
    person.right_of_centre =
        lengthOf(company.middle_mm + (k - (count - 1) / 2.0) * person_breadth_mm, wall.units);
    person.out_from_board = lengthOf(company.out_mm, wall.units);
    people.push_back(person);
  }
  return people;
}

std::optional<plan::Shot> framedFor(const plan::Shot& shot, Framing framing, const WallFrame& wall) {
  plan::Shot framed = shot;
  if (framed.people.empty()) framed.people = peopleSideBySide(shot, 1, wall);
  framed.focus.reset();
  const Company company = companyOf(framed.people, wall);
  const auto camera = makeCamera(shot, wall);
  if (!camera) return std::nullopt;
  const FramingFacts& facts = factsOf(framing);
  // The height and width that the picture needs where the people stand, across the lens axis.
  const double high_mm =
      company.tallest_mm * (1 - facts.from_height) / (1 - facts.air_above - facts.air_below);
  const double wide_mm = company.breadth_mm / (1 - 2 * free_at_each_side);
  const double focal_px = camera.value->focal_px;
  const double distance_mm =
      std::max(high_mm * focal_px / camera.value->height_px, wide_mm * focal_px / camera.value->width_px);
  // The head keeps its air where the breadth moves the camera farther out.
  const double high_there_mm = distance_mm * camera.value->height_px / focal_px;
  const double level_mm = company.tallest_mm + facts.air_above * high_there_mm - high_there_mm / 2;

  const double aside_mm = mmOf(shot.camera_right, wall) - company.middle_mm;
  const double before_mm = mmOf(shot.camera_out, wall) - company.out_mm;
  const double angle = before_mm > 0 ? std::atan2(aside_mm, before_mm) : 0.0;
  const double out_mm = company.out_mm + distance_mm * std::cos(angle);
  framed.camera_right = lengthOf(company.middle_mm + distance_mm * std::sin(angle), wall.units);
  framed.camera_out = lengthOf(out_mm, wall.units);
  framed.camera_above_floor = lengthOf(level_mm, wall.units);
  framed.aim_right = lengthOf(company.middle_mm - company.out_mm * std::tan(angle), wall.units);
  framed.aim_above_floor = framed.camera_above_floor;
  return framed;
}

}  // namespace petalproof::camera
