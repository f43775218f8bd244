#include "engine/camera/projection.h"
#include "tests/camera/example_shots.h"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>
#include <opencv2/calib3d.hpp>

#include <vector>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::camera;

namespace {

constexpr double to_radians = 3.14159265358979323846 / 180;

// OpenCV's camera looks along +z with y down and has whole numbers at pixel centres; ours has them at
// pixel borders.
constexpr double half_pixel = 0.5;

cv::Matx33d intrinsicsOf(const Camera& camera) {
  return {camera.focal_px,
          0,
          camera.width_px / 2.0 - half_pixel,
          0,
          camera.focal_px,
          camera.height_px / 2.0 - half_pixel,
          0,
          0,
          1};
}

// OpenCV's rotation for a level camera turned by `yaw` to the right and `pitch` up.
cv::Matx33d turned(double yaw, double pitch) {
  const cv::Matx33d flip = cv::Matx33d::diag({1, -1, -1});
  cv::Matx33d about_y;
  cv::Matx33d about_x;
  cv::Rodrigues(cv::Vec3d(0, yaw, 0), about_y);
  cv::Rodrigues(cv::Vec3d(-pitch, 0, 0), about_x);
  return flip * about_x * about_y;
}

struct Pose {
  glm::dvec3 position;
  double yaw;
  double pitch;
};

// The shot whose camera has that pose: the aim is where the axis meets the board.
Shot shotOf(const Pose& pose, const WallFrame& wall, double lens_mm) {
  const double along = pose.position.z / (std::cos(pose.yaw) * std::cos(pose.pitch));
  const double aim_x = pose.position.x + along * std::sin(pose.yaw) * std::cos(pose.pitch);
  const double aim_y = pose.position.y + along * std::sin(pose.pitch);
  Shot shot = shotFrom(pose.position.x - wall.width_mm / 2, pose.position.y + wall.above_floor_mm,
                       pose.position.z, aim_x - wall.width_mm / 2, aim_y + wall.above_floor_mm, lens_mm);
  shot.focus = Length{1e7};  // farther than any lens here is long
  return shot;
}

Pose randomPose(Random& random) {
  return {{random.between(-4000, 7000), random.between(-100, 3000), random.magnitude(200, 20000)},
          random.between(-70, 70) * to_radians,
          random.between(-60, 60) * to_radians};
}

// A camera with OpenCV's pose (rotation and shift of the points), 6000 x 4000 pixels, 50 mm on 36 x 24 mm.
Camera cameraWithPose(const cv::Vec3d& rotation, const cv::Vec3d& shift) {
  cv::Matx33d turn;
  cv::Rodrigues(rotation, turn);
  const cv::Vec3d centre = -(turn.t() * shift);
  Camera camera;
  camera.position.mm = {centre[0], centre[1], centre[2]};
  for (int row = 0; row < 3; ++row)
    for (int column = 0; column < 3; ++column)
      camera.cameraFromWall[column][row] = (row == 0 ? 1 : -1) * turn(row, column);
  camera.width_px = 6000;
  camera.height_px = 4000;
  camera.focal_px = 50 * 6000 / 36.0;
  return camera;
}

void checkPixel(const Camera& camera, const glm::dvec3& point, double u, double v) {
  const auto pixel = project(camera, {point});
  REQUIRE(pixel);
  CHECK(std::abs(pixel->px.x - u) < 1e-6);  // as many digits as are given
  CHECK(std::abs(pixel->px.y - v) < 1e-6);
}

}  // namespace

TEST_CASE("random cameras project as OpenCV's projectPoints does") {
  const WallFrame wall = exampleWall();
  std::size_t compared = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const Pose pose = randomPose(random);
    const Camera camera = cameraOf(shotOf(pose, wall, random.magnitude(8, 600)), wall);
    const cv::Matx33d turn = turned(pose.yaw, pose.pitch);
    const cv::Vec3d centre(pose.position.x, pose.position.y, pose.position.z);
    const cv::Vec3d shift = -(turn * centre);
    cv::Vec3d rotation;
    cv::Rodrigues(turn, rotation);

    std::vector<cv::Point3d> points;
    std::vector<glm::dvec2> ours;
    for (int k = 0; k < 200; ++k) {
      const glm::dvec3 point(random.between(-1000, 4000), random.between(-500, 3000),
                             random.between(-20, 1500));
      const cv::Vec3d seen = turn * cv::Vec3d(point.x, point.y, point.z) + shift;
      // Far off the axis a pixel's coordinate itself is beyond 1e-6 px in double precision.
      if (seen[2] <= 0.1 * cv::norm(seen)) continue;
      points.emplace_back(point.x, point.y, point.z);
      const auto pixel = project(camera, {point});
      REQUIRE(pixel);
      ours.push_back(pixel->px);
    }
    if (points.empty()) continue;
    compared += points.size();
    std::vector<cv::Point2d> theirs;
    cv::projectPoints(points, rotation, shift, intrinsicsOf(camera), cv::noArray(), theirs);
    for (std::size_t k = 0; k < theirs.size(); ++k) {
      CAPTURE(k);
      CHECK(std::abs(ours[k].x - half_pixel - theirs[k].x) < 1e-6);
      CHECK(std::abs(ours[k].y - half_pixel - theirs[k].y) < 1e-6);
    }
  }
  CHECK(compared > 20000);
}

TEST_CASE("reference numbers of OpenCV 4.6") {
  // Output of OpenCV 4.6 for 50 mm on 36 x 24 mm, 6000 x 4000 px, principal point (3000, 2000), so with
  // whole numbers at pixel borders as ours.
  const Camera straight = cameraWithPose({0, 0, 0}, {0, 0, 0});
  checkPixel(straight, {0, 0, 3000}, 3000, 2000);
  checkPixel(straight, {1000, 0, 3000}, 5777.777777777778, 2000);
  checkPixel(straight, {0, -1200, 3000}, 3000, -1333.333333333333);
  checkPixel(straight, {500, 400, 2500}, 4666.666666666667, 3333.333333333333);
  CHECK(std::abs(project(straight, {{-1080, -720, 3000}})->px.x) < 1e-9);  // the frame's corner
  CHECK(std::abs(project(straight, {{-1080, -720, 3000}})->px.y) < 1e-9);
  const Camera turned_camera = cameraWithPose({0, 0.2, 0}, {100, -50, 200});
  checkPixel(turned_camera, {0, 0, 3000}, 4847.037480, 1867.312050);
  checkPixel(turned_camera, {1000, 0, 3000}, 7748.306552, 1858.350379);
  checkPixel(turned_camera, {0, -1200, 3000}, 4847.037480, -1317.198761);
  checkPixel(turned_camera, {500, 400, 2500}, 6550.170787, 3143.417881);
  checkPixel(turned_camera, {-1080, -720, 3000}, 2099.628514, 87.296357);
}

TEST_CASE("the worked example of Hartley and Zisserman") {
  // R. Hartley, A. Zisserman, Multiple View Geometry in Computer Vision, 2nd ed. 2004, Example 6.2, p. 163.
  const cv::Matx34d P(3.53553e+2, 3.39645e+2, 2.77744e+2, -1.44946e+6, -1.03528e+2, 2.33212e+1, 4.59607e+2,
                      -6.32525e+5, 7.07107e-1, -3.53553e-1, 6.12372e-1, -9.18559e+2);
  const cv::Matx33d K(468.2, 91.2, 300, 0, 427.2, 200, 0, 0, 1);
  const double R[3][3] = {
      {0.41380, 0.90915, 0.04708}, {-0.57338, 0.22011, 0.78917}, {0.70711, -0.35355, 0.61237}};
  // The example's pixels are neither square nor upright, so our camera takes the pose with a focal length
  // of 1 and the book's K does the rest.
  Camera camera;
  camera.position.mm = {1000, 2000, 1500};
  for (int row = 0; row < 3; ++row)
    for (int column = 0; column < 3; ++column)
      camera.cameraFromWall[column][row] = (row == 0 ? 1 : -1) * R[row][column];
  camera.focal_px = 1;
  Random random(62);
  for (int k = 0; k < 100; ++k) {
    const glm::dvec3 along(random.between(-0.5, 0.5), random.between(-0.5, 0.5), 1);
    const glm::dvec3 point =
        camera.position.mm +
        random.between(500, 5000) * (glm::transpose(camera.cameraFromWall) * (glm::dvec3(1, -1, -1) * along));
    const cv::Vec3d theirs = P * cv::Vec4d(point.x, point.y, point.z, 1);
    const auto normalised = project(camera, {point});
    REQUIRE(normalised);
    const cv::Vec3d ours = K * cv::Vec3d(normalised->px.x, normalised->px.y, 1);
    // The book rounds K to 0.1.
    CHECK(std::abs(ours[0] - theirs[0] / theirs[2]) < 0.2);
    CHECK(std::abs(ours[1] - theirs[1] / theirs[2]) < 0.2);
  }
}

TEST_CASE("angles of view of a 36 x 24 mm frame") {
  // 2 atan(d / 2f), worked out independently. A lens maker's sheet for a 24-85 mm lens says 84 to 28.5
  // degrees across the diagonal; OpenCV 4.6 calibrationMatrixValues: 39.597753 x 26.991467 at 50 mm.
  const struct {
    double lens, across, down, diagonal;
  } values[] = {{20, 83.9744, 61.9275, 94.4932},  {24, 73.7398, 53.1301, 84.0622},
                {28, 65.4705, 46.3972, 75.3806},  {35, 54.4322, 37.8493, 63.4400},
                {50, 39.5978, 26.9915, 46.7930},  {70, 28.8415, 19.4552, 34.3472},
                {85, 23.9132, 16.0714, 28.5583},  {100, 20.4079, 13.6855, 24.4137},
                {105, 19.4552, 13.0396, 23.2837}, {135, 15.1893, 10.1592, 18.2081}};
  for (const auto& value : values) {
    CAPTURE(value.lens);
    const FieldOfView view = fieldOfView(cameraOf(headOn(3000, value.lens)));
    CHECK(std::abs(view.across_deg - value.across) < 1e-4);
    CHECK(std::abs(view.down_deg - value.down) < 1e-4);
    CHECK(std::abs(view.diagonal_deg - value.diagonal) < 1e-4);
  }
  CHECK(std::abs(fieldOfView(cameraOf(headOn(3000, 24))).diagonal_deg - 84) < 1);
  CHECK(std::abs(fieldOfView(cameraOf(headOn(3000, 85))).diagonal_deg - 28.5) < 1);
  CHECK(std::abs(fieldOfView(cameraOf(headOn(3000, 50))).across_deg - 39.597753) < 1e-6);
  CHECK(std::abs(fieldOfView(cameraOf(headOn(3000, 50))).down_deg - 26.991467) < 1e-6);
}

TEST_CASE("from a pixel to the wall and back") {
  for (std::uint64_t seed = 1; seed <= 500; ++seed) {
    CAPTURE(seed);
    Random random(seed);
    const Pose pose = {
        {random.between(-50000, 50000), random.between(-2000, 20000), random.magnitude(1, 1e6)},
        random.between(-85, 85) * to_radians,
        random.between(-80, 80) * to_radians};
    const Camera camera = cameraOf(shotOf(pose, exampleWall(), random.magnitude(3, 2000)));
    const glm::dmat3 board = boardFromPixel(camera);
    const glm::dmat3 back = pixelFromBoard(camera);
    for (int k = 0; k < 20; ++k) {
      const glm::dvec2 pixel(random.between(0, camera.width_px), random.between(0, camera.height_px));
      const glm::dvec3 direction = rayDirection(camera, {pixel});
      CHECK(glm::length(direction) == doctest::Approx(1));
      const auto place = boardPointOf(camera, {pixel});
      REQUIRE(place.has_value() == ((board * glm::dvec3(pixel, 1)).z > 0));
      // Near the horizon the place is too far away for the way back in double precision.
      if (direction.z > -1e-3) continue;
      REQUIRE(place);
      const glm::dvec2 returned = project(camera, onBoardPlane(*place))->px;
      CHECK(glm::distance(returned, pixel) < 1e-5);
      const glm::dvec3 by_matrix = back * glm::dvec3(place->mm, 1);
      CHECK(by_matrix.z > 0);
      CHECK(glm::distance(glm::dvec2(by_matrix) / by_matrix.z, pixel) < 1e-5);
    }
  }
}

TEST_CASE("a ray that goes away from the board meets nothing") {
  // Turned 80 degrees to the right, with an angle of view of 74 degrees.
  const Camera camera = cameraOf(shotFrom(0, 1400, 1000, 1000 * std::tan(80 * to_radians), 1400, 24));
  CHECK(boardPointOf(camera, {{0, 2000}}));
  CHECK(boardPointOf(camera, {{3000, 2000}}));
  CHECK_FALSE(boardPointOf(camera, {{6000, 2000}}));
  // The horizon lies 10 degrees right of the axis.
  const double horizon_px = 3000 + camera.focal_px * std::tan(10 * to_radians);
  CHECK(boardPointOf(camera, {{horizon_px - 0.01, 2000}}));
  CHECK_FALSE(boardPointOf(camera, {{horizon_px + 0.01, 2000}}));
}

TEST_CASE("points on and behind the camera have no pixel") {
  const Camera camera = cameraOf(headOn(3000));
  CHECK_FALSE(project(camera, camera.position));
  CHECK_FALSE(project(camera, {{1500, 1200, 3000.001}}));
  CHECK(project(camera, {{1500, 1200, 2999.999}}));
}

TEST_CASE("the same frame with other pixels") {
  const Camera camera = cameraOf(shotFrom(900, 1600, 2500, -200, 1200, 35));
  const Camera small = scaledTo(camera, 1500);
  CHECK(small.width_px == 1500);
  CHECK(small.height_px == 1000);
  CHECK(fieldOfView(small).across_deg == doctest::Approx(fieldOfView(camera).across_deg));
  const auto large_pixel = project(camera, {{700, 900, 50}});
  const auto small_pixel = project(small, {{700, 900, 50}});
  CHECK(small_pixel->px.x * 4 == doctest::Approx(large_pixel->px.x));
  CHECK(small_pixel->px.y * 4 == doctest::Approx(large_pixel->px.y));
}
