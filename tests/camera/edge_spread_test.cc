// The blur against light itself: Embree traces a step edge through a finite aperture, ray by ray, and the
// spread of the edge in that picture is measured.
#include "engine/camera/lens.h"
#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>
#include <embree3/rtcore.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;

namespace {

template <auto release>
struct Release {
  template <class Handle>
  void operator()(Handle* handle) const {
    release(handle);
  }
};

// A dark half plane, x < 0, at a distance before the lens; all else is light.
class StepEdge {
 public:
  explicit StepEdge(double distance_mm) : device_(rtcNewDevice(nullptr)), scene_(rtcNewScene(device_.get())) {
    const auto z = static_cast<float>(-distance_mm);
    const auto far = static_cast<float>(4 * distance_mm);
    RTCGeometry geometry = rtcNewGeometry(device_.get(), RTC_GEOMETRY_TYPE_QUAD);
    auto* const v = static_cast<float*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0,
                                                                RTC_FORMAT_FLOAT3, 3 * sizeof(float), 4));
    auto* const q = static_cast<unsigned*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT4, 4 * sizeof(unsigned), 1));
    const std::vector<float> corners = {-far, -far, z, 0, -far, z, 0, far, z, -far, far, z};
    std::copy(corners.begin(), corners.end(), v);
    for (unsigned k = 0; k < 4; ++k) q[k] = k;
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(scene_.get(), geometry);
    rtcReleaseGeometry(geometry);
    rtcCommitScene(scene_.get());
  }

  bool isDarkFrom(glm::dvec2 lens_mm, glm::dvec2 slope) const {
    RTCRay ray{};
    ray.org_x = static_cast<float>(lens_mm.x);
    ray.org_y = static_cast<float>(lens_mm.y);
    ray.dir_x = static_cast<float>(slope.x);
    ray.dir_y = static_cast<float>(slope.y);
    ray.dir_z = -1;
    ray.tfar = INFINITY;
    ray.mask = ~0U;
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    rtcOccluded1(scene_.get(), &context, &ray);
    return ray.tfar < 0;
  }

 private:
  std::unique_ptr<RTCDeviceTy, Release<rtcReleaseDevice>> device_;
  std::unique_ptr<RTCSceneTy, Release<rtcReleaseScene>> scene_;
};

// Evenly over the unit disc, from the unit square (P. Shirley, K. Chiu, "A low distortion map between disk
// and square", 1997).
glm::dvec2 onDisc(double u, double v) {
  const double x = 2 * u - 1;
  const double y = 2 * v - 1;
  if (x == 0 && y == 0) return {0, 0};
  const bool flat = std::abs(x) > std::abs(y);
  const double radius = flat ? x : y;
  const double angle = flat ? pi / 4 * (y / x) : pi / 2 - pi / 4 * (x / y);
  return {radius * std::cos(angle), radius * std::sin(angle)};
}

// The light at one place of the sensor: rays from it through stratified points of the aperture, bent there as
// an ideal thin lens bends them (a ray at the height h gains the slope -h / f; E. Hecht, "Optics", ray
// matrices).
double lightAt(glm::dvec2 sensor_mm, const ThinLens& lens, const StepEdge& edge, Random& random) {
  constexpr int strata = 64;
  const double radius_mm = lens.focal_mm / lens.f_number / 2;
  const double image_mm = 1 / (1 / lens.focal_mm - 1 / lens.focus_mm);
  int light = 0;
  for (int k = 0; k < strata * strata; ++k) {
    const double u = (k % strata + random.between(0, 1)) / strata;
    const double v = (k / strata + random.between(0, 1)) / strata;
    const glm::dvec2 at = radius_mm * onDisc(u, v);
    const glm::dvec2 slope = (at - sensor_mm) / image_mm - at / lens.focal_mm;
    light += edge.isDarkFrom(at, slope) ? 0 : 1;
  }
  return static_cast<double>(light) / (strata * strata);
}

struct Profile {
  std::vector<double> place_mm;
  std::vector<double> light;
};

// A picture across the edge, on the sensor, from -half to half of `width_mm`; light falls (the picture is
// upside down).
Profile tracedAcross(const ThinLens& lens, const StepEdge& edge, double width_mm) {
  constexpr int pixels = 120;
  Random random(11);
  Profile profile;
  for (int k = 0; k < pixels; ++k) {
    const double place_mm = ((k + 0.5) / pixels - 0.5) * width_mm;
    profile.place_mm.push_back(place_mm);
    profile.light.push_back(lightAt({place_mm, 0}, lens, edge, random));
  }
  return profile;
}

// Where the falling light passes `level`.
double placeOf(double level, const Profile& profile) {
  for (std::size_t k = 1; k < profile.light.size(); ++k) {
    const double before = profile.light[k - 1];
    const double after = profile.light[k];
    if (before >= level && after < level)
      return profile.place_mm[k - 1] +
             (before - level) / (before - after) * (profile.place_mm[k] - profile.place_mm[k - 1]);
  }
  FAIL("the edge is not within the picture");
  return 0;
}

// The share of a disc of diameter 1 on one side of a straight edge, `x` from its centre.
double shareOfDisc(double x) {
  const double u = std::clamp(2 * x, -1.0, 1.0);
  return 0.5 + (u * std::sqrt(1 - u * u) + std::asin(u)) / pi;
}

// How wide, in its diameters, a disc spreads an edge from 10 to 90 %: by halving.
double tenToNinetyOfDisc() {
  double low = 0;
  double high = 0.5;
  for (int k = 0; k < 60; ++k) (shareOfDisc((low + high) / 2) < 0.9 ? low : high) = (low + high) / 2;
  return 2 * low;
}

void checkSpread(const ThinLens& lens, double distance_mm) {
  CAPTURE(lens.focal_mm);
  CAPTURE(lens.f_number);
  CAPTURE(lens.focus_mm);
  CAPTURE(distance_mm);
  const double blur_mm = blurDiscMm(lens, distance_mm);
  const Profile profile = tracedAcross(lens, StepEdge(distance_mm), 1.5 * blur_mm);
  CHECK(profile.light.front() == 1);
  CHECK(profile.light.back() == 0);
  const double spread_mm = placeOf(0.1, profile) - placeOf(0.9, profile);
  CHECK(std::abs(spread_mm / tenToNinetyOfDisc() / blur_mm - 1) < 0.03);
}

}  // namespace

TEST_CASE("a disc spreads an edge from 10 to 90 per cent over 0.69 of its diameter") {
  // The 80 % of a circle's area between two parallel chords: worked out independently by counting points.
  CHECK(tenToNinetyOfDisc() == doctest::Approx(0.687).epsilon(2e-3));
}

TEST_CASE("a traced edge spreads as the blur disc says, to 3 per cent") {
  checkSpread({50, 2.8, 2500}, 3000);
  checkSpread({85, 1.8, 2500}, 4000);
  checkSpread({85, 4, 3500}, 5200);
  checkSpread({35, 5.6, 2500}, 3000);
  checkSpread({200, 2.8, 6000}, 7500);
  checkSpread({24, 1.4, 1500}, 3500);
  checkSpread({50, 1.8, 3000}, 2000);  // before what is in focus
  checkSpread({105, 2.8, 400}, 420);   // near: magnification counts
}

TEST_CASE("a traced edge behind people spreads as their shot's blur says, on a phone and on full frame") {
  Shot shot = headOn(4000, 85);
  shot.aperture = 2;
  shot.people = {{Length{1700}, Length{0}, Length{1200}}};
  Shot phone = headOn(2500, 26);
  phone.sensor = {"phone", 9.8, 7.35};
  phone.lens.full_frame_equivalent = true;
  phone.aperture = 1.8;
  phone.people = shot.people;
  for (const Shot& each : {shot, phone}) {
    const Camera camera = cameraOf(each);
    checkSpread(lensOf(camera), boardDistanceMm(camera).value());
  }
}
