#include "engine/scene/person.h"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>
#include <vector>

using namespace petalproof;
using namespace petalproof::scene;

namespace {

constexpr double height = 1700;

// Breadth of the figure between two heights (shares of the stature), of the part within `reach` of the
// middle.
double breadth(const Mesh& mesh, double low, double high, double reach = 1) {
  double right = 0;
  for (const glm::dvec3 p : mesh.vertices)
    if (p.y >= low * height && p.y <= high * height && std::abs(p.x) <= reach * height)
      right = std::max(right, p.x);
  return 2 * right / height;
}

}  // namespace

TEST_CASE("a person stands at the given height, feet on the floor, at the origin") {
  for (const double tall : {900.0, 1700.0, 2050.0}) {
    const Mesh mesh = makePerson(tall);
    double low = 1e9;
    double high = -1e9;
    double right = 0;
    double left = 0;
    for (const glm::vec3& p : mesh.vertices) {
      low = std::min<double>(low, p.y);
      high = std::max<double>(high, p.y);
      right = std::max<double>(right, p.x);
      left = std::min<double>(left, p.x);
    }
    CHECK(std::abs(low) < 1e-3 * tall);
    CHECK(high == doctest::Approx(tall));
    CHECK(right == doctest::Approx(-left));
  }
  CHECK(makePerson(height).triangles.size() < 1500);
}

TEST_CASE("a person's breadths follow the survey") {
  // C. C. Gordon et al., "2012 Anthropometric Survey of U.S. Army Personnel: Methods and Summary
  // Statistics", NATICK/TR-15/007, 2014; from the public individual data (4082 men, 1986 women), means in
  // mm, men and women: stature 1756.2, 1628.5; bideltoid breadth 510.4, 450.3; acromial height 1440.7,
  // 1335.1; chest breadth 289.4, 269.3; hip breadth 345.7, 353.8; head breadth 154.3, 147.8; head length
  // 199.5, 189.8. As shares of the stature, men and women averaged.
  const auto share = [](double men, double women) { return 0.5 * (men / 1756.2 + women / 1628.5); };
  const Mesh mesh = makePerson(height);
  CHECK(breadth(mesh, 0.70, 0.83) == doctest::Approx(share(510.4, 450.3)).epsilon(0.03));
  CHECK(breadth(mesh, 0.70, 0.75, 0.084) == doctest::Approx(share(289.4, 269.3)).epsilon(0.03));
  CHECK(breadth(mesh, 0.50, 0.52, 0.11) == doctest::Approx(share(345.7, 353.8)).epsilon(0.03));
  CHECK(breadth(mesh, 0.91, 1.0) == doctest::Approx(share(154.3, 147.8)).epsilon(0.05));
  double front = -1e9;
  double back = 1e9;
  double shoulder = 0;
  for (const glm::dvec3 p : mesh.vertices) {
    if (p.y > 0.91 * height) {
      front = std::max(front, p.z);
      back = std::min(back, p.z);
    }
    if (std::abs(p.x) > 0.10 * height) shoulder = std::max(shoulder, p.y);
  }
  CHECK((front - back) / height == doctest::Approx(share(199.5, 189.8)).epsilon(0.03));
  CHECK(shoulder / height == doctest::Approx(share(1440.7, 1335.1)).epsilon(0.02));
}

TEST_CASE("eyes lie on the face") {
  const Mesh mesh = makePerson(height);
  double face = -1e9;
  for (const glm::dvec3 p : mesh.vertices)
    if (std::abs(p.y - eye_height_share * height) < 0.02 * height) face = std::max(face, p.z);
  CHECK(face == doctest::Approx(eyes_in_front_mm).epsilon(0.15));
}

TEST_CASE("the figure's bodies are closed and look outwards") {
  const Mesh mesh = makePerson(height);
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
  double volume = 0;
  for (const Triangle& t : mesh.triangles) {
    for (std::size_t k = 0; k < 3; ++k) {
      ++edges[{t[k], t[(k + 1) % 3]}];
      --edges[{t[(k + 1) % 3], t[k]}];
    }
    volume += glm::dot(glm::dvec3(mesh.vertices[t[0]]),
                       glm::cross(glm::dvec3(mesh.vertices[t[1]]), glm::dvec3(mesh.vertices[t[2]]))) /
              6;
  }
  for (const auto& [edge, uses] : edges) CHECK(uses == 0);
  // A body of 1.7 m has about 70 litres; the parts overlap a little.
  CHECK(volume > 45e6);
  CHECK(volume < 95e6);
}
