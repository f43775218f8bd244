#pragma once
// Places whose light is asked for, many at a time: each number in a row of its own, for loops that take
// several spots at once.

#include <glm/vec3.hpp>

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::light {

// A place on a surface, wall frame. Two places that touch may have the same `normal` and other `face`s:
// paper is smooth and its mesh is not.
struct LitSpot {
  glm::vec3 point{0};
  glm::vec3 normal{0};  // unit, of the smooth surface, towards the side that is looked at
  glm::vec3 face{0};    // unit, of the triangle, to the same side
};

struct VectorRow {
  std::vector<float> x;
  std::vector<float> y;
  std::vector<float> z;

  void push_back(const glm::vec3& v) {
    x.push_back(v.x);
    y.push_back(v.y);
    z.push_back(v.z);
  }
  void append(const VectorRow& more) {
    x.insert(x.end(), more.x.begin(), more.x.end());
    y.insert(y.end(), more.y.begin(), more.y.end());
    z.insert(z.end(), more.z.begin(), more.z.end());
  }
  glm::vec3 at(std::size_t k) const { return {x[k], y[k], z[k]}; }
};

// A stretch of such a row.
struct VectorStrip {
  const float* x = nullptr;
  const float* y = nullptr;
  const float* z = nullptr;

  VectorStrip(const VectorRow& row, std::size_t first)
      : x(row.x.data() + first), y(row.y.data() + first), z(row.z.data() + first) {}
};

struct LitSpots {
  VectorRow points;
  VectorRow normals;
  VectorRow faces;

  std::size_t size() const { return points.x.size(); }
  void push_back(const LitSpot& spot) {
    points.push_back(spot.point);
    normals.push_back(spot.normal);
    faces.push_back(spot.face);
  }
  void append(const LitSpots& more) {
    points.append(more.points);
    normals.append(more.normals);
    faces.append(more.faces);
  }
};

// Spots of which many are asked for more than once: triangles share their corners, tiles their borders. Each
// is moved to a fine lattice first, so that what it gets doesn't depend on who else asks for it.
class SharedSpots {
 public:
  void push_back(const LitSpot& spot);

  const LitSpots& unique() const { return unique_; }
  // For each spot pushed back, in order, which of the unique ones it is.
  std::span<const std::uint32_t> which() const { return which_; }

 private:
  using Key = std::array<std::int32_t, 9>;
  void grow();

  LitSpots unique_;
  std::vector<std::uint32_t> which_;
  std::vector<Key> keys_;             // as unique_
  std::vector<std::uint32_t> table_;  // open addressing: index into unique_, or free
};

}  // namespace petalproof::light
