#include "engine/light/internal/depth_map.h"

#include "engine/base/stopping.h"
#include "engine/light/internal/lanes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace petalproof::light {
namespace {

constexpr std::size_t parts_between_looks = 8;  // whether to go on

struct Canvas {
  DepthMap::Steps* cells;
  int columns;
  int rows;
  int stride;
};

// A triangle's edge upwards: where it crosses a row's middle line.
struct Edge {
  float x0;
  float per_y;
  Edge(const glm::vec3& low, const glm::vec3& high) {
    const float rise = high.y - low.y;
    per_y = rise > 0 ? (high.x - low.x) / rise : 0;
    x0 = low.x - per_y * low.y;
  }
};

// The first cell whose middle is beyond `cells`, between 0 and `end`.
inline int firstMiddle(float cells, int end) {
  return static_cast<int>(std::min(std::max(cells + 0.5F, 0.0F), static_cast<float>(end)));
}

constexpr Floats onwards{0, 1, 2, 3, 4, 5, 6, 7};

// A triangle's plane over the cells' middles, and its own bounds.
struct Plane {
  float at_corner;
  float per_x;
  float per_y;
  float least;
  float most;
};

// The cells of a row from one edge to the other: the higher of what they hold and the plane.
PETALPROOF_PART void fillSpan(DepthMap::Steps* row, int first, int end, float at_0, const Plane& plane) {
  constexpr Shorts order{0, 1, 2, 3, 4, 5, 6, 7};
  const Floats most = Floats{} + plane.most;
  const Floats least = Floats{} + plane.least;
  for (int x = first; x < end; x += lanes) {
    Floats z = at_0 + plane.per_x * (static_cast<float>(x) + onwards);
    z = z < most ? z : most;
    z = z > least ? z : least;
    const Shorts steps = __builtin_convertvector(__builtin_convertvector(z, Ints), Shorts);
    Shorts held;
    load(row + x, held);
    const auto left = static_cast<DepthMap::Steps>(std::min(end - x, lanes));
    const Shorts fresh = order < left ? steps : held;
    held = fresh > held ? fresh : held;
    store(held, row + x);
  }
}

// The first cells whose middles are beyond `cells`, between 0 and `end`.
PETALPROOF_PART void firstMiddles(const Floats& cells, int end, std::array<std::int32_t, lanes>& to) {
  const Floats none{};
  const Floats last = none + static_cast<float>(end);
  Floats at = cells + 0.5F;
  at = at > none ? at : none;
  at = at < last ? at : last;
  store(__builtin_convertvector(at, Ints), to.data());
}

// As many rows from `row` on as there are lanes, none from `end_row` on, each from one edge to the other.
PETALPROOF_PART void fillRows(const Canvas& canvas, int row, int end_row, const Floats& left,
                              const Floats& right, const Plane& plane) {
  std::array<std::int32_t, lanes> first;
  std::array<std::int32_t, lanes> end;
  firstMiddles(left, canvas.columns, first);
  firstMiddles(right, canvas.columns, end);
  const int count = std::min(end_row - row, lanes);
  for (int k = 0; k < count; ++k) {
    const auto at = static_cast<std::size_t>(k);
    fillSpan(canvas.cells + static_cast<std::ptrdiff_t>(row + k) * canvas.stride, first[at], end[at],
             plane.at_corner + plane.per_y * static_cast<float>(row + k), plane);
  }
}

PETALPROOF_PART void fillTriangle(const Canvas& canvas, glm::vec3 a, glm::vec3 b, glm::vec3 c) {
  if (b.y < a.y) std::swap(a, b);
  if (c.y < b.y) std::swap(b, c);
  if (b.y < a.y) std::swap(a, b);
  const int first_row = firstMiddle(a.y, canvas.rows);
  const int end_row = firstMiddle(c.y, canvas.rows);
  if (first_row >= end_row) return;
  const glm::vec3 e = b - a;
  const glm::vec3 f = c - a;
  const float area = e.x * f.y - f.x * e.y;
  // Seen edge-on there is nothing to see, and nothing to divide by.
  if (std::abs(area) < 1e-4F * (std::abs(e.x * f.y) + std::abs(f.x * e.y))) return;
  const float scale = 1 / area;
  const float per_x = (e.z * f.y - f.z * e.y) * scale;
  const float per_y = (e.x * f.z - f.x * e.z) * scale;
  const Plane plane{a.z - per_x * (a.x - 0.5F) - per_y * (a.y - 0.5F), per_x, per_y,
                    std::min(a.z, std::min(b.z, c.z)), std::max(a.z, std::max(b.z, c.z))};
  const Edge whole(a, c);
  const Edge lower(a, b);
  const Edge upper(b, c);
  const auto middle_row = static_cast<float>(std::clamp(firstMiddle(b.y, canvas.rows), first_row, end_row));
  for (int row = first_row; row < end_row; row += lanes) {
    const Floats rows = static_cast<float>(row) + onwards;
    const Floats y = rows + 0.5F;
    const Floats x1 = whole.x0 + whole.per_y * y;
    const Floats x2 = rows < middle_row ? lower.x0 + lower.per_y * y : upper.x0 + upper.per_y * y;
    fillRows(canvas, row, end_row, area > 0 ? x1 : x2, area > 0 ? x2 : x1, plane);
  }
}

// An edge of a quad, and the rows that it crosses.
struct QuadEdge {
  Edge edge;
  float first_row;
  float end_row;
};

PETALPROOF_PART QuadEdge quadEdge(const Canvas& canvas, const glm::vec3& a, const glm::vec3& b) {
  const glm::vec3& low = b.y < a.y ? b : a;
  const glm::vec3& high = b.y < a.y ? a : b;
  return {Edge(low, high), static_cast<float>(firstMiddle(low.y, canvas.rows)),
          static_cast<float>(firstMiddle(high.y, canvas.rows))};
}

// The plane halfway between a quad's diagonals; none where it is seen edge-on.
PETALPROOF_PART bool findPlane(const std::array<glm::vec3, 4>& p, Plane& plane) {
  const glm::vec3 e = p[2] - p[0];
  const glm::vec3 f = p[3] - p[1];
  const float area = e.x * f.y - f.x * e.y;
  if (std::abs(area) < 1e-4F * (std::abs(e.x * f.y) + std::abs(f.x * e.y))) return false;
  const float scale = 1 / area;
  const glm::vec3 middle = 0.25F * ((p[0] + p[1]) + (p[2] + p[3]));
  plane.per_x = (e.z * f.y - f.z * e.y) * scale;
  plane.per_y = (e.x * f.z - f.x * e.z) * scale;
  plane.at_corner = middle.z - plane.per_x * (middle.x - 0.5F) - plane.per_y * (middle.y - 0.5F);
  plane.least = std::min(std::min(p[0].z, p[1].z), std::min(p[2].z, p[3].z));
  plane.most = std::max(std::max(p[0].z, p[1].z), std::max(p[2].z, p[3].z));
  return true;
}

// Seen from the lamp a quad that is bent a little may have a corner that points inwards a little; each row is
// filled from its first edge to its last.
PETALPROOF_PART void fillQuad(const Canvas& canvas, const std::array<glm::vec3, 4>& p) {
  Plane plane;
  const float low = std::min(std::min(p[0].y, p[1].y), std::min(p[2].y, p[3].y));
  const float high = std::max(std::max(p[0].y, p[1].y), std::max(p[2].y, p[3].y));
  const int first_row = firstMiddle(low, canvas.rows);
  const int end_row = firstMiddle(high, canvas.rows);
  if (first_row >= end_row || !findPlane(p, plane)) return;
  const std::array<QuadEdge, 4> edges{quadEdge(canvas, p[0], p[1]), quadEdge(canvas, p[1], p[2]),
                                      quadEdge(canvas, p[2], p[3]), quadEdge(canvas, p[3], p[0])};
  for (int row = first_row; row < end_row; row += lanes) {
    const Floats rows = static_cast<float>(row) + onwards;
    const Floats y = rows + 0.5F;
    Floats left = Floats{} + std::numeric_limits<float>::max();
    Floats right = Floats{} + std::numeric_limits<float>::lowest();
    for (const QuadEdge& one : edges) {
      const Floats x = one.edge.x0 + one.edge.per_y * y;
      const Ints crossed = (rows >= one.first_row) & (rows < one.end_row);
      left = (crossed & (x < left)) ? x : left;
      right = (crossed & (x > right)) ? x : right;
    }
    fillRows(canvas, row, end_row, left, right, plane);
  }
}

PETALPROOF_WIDE void fillPaper(const Canvas& canvas, const glm::vec3* corners, const JoinedPaper& paper) {
  for (const auto& [a, b, c, d] : paper.quads)
    fillQuad(canvas, {corners[a], corners[b], corners[c], corners[d]});
  for (const auto& [a, b, c] : paper.alone) fillTriangle(canvas, corners[a], corners[b], corners[c]);
}

}  // namespace

RayFrame::RayFrame(const glm::vec3& to_lamp) : towards(glm::normalize(to_lamp)) {
  const glm::vec3 aside = std::abs(towards.y) < 0.9F ? glm::vec3(0, 1, 0) : glm::vec3(1, 0, 0);
  across = glm::normalize(glm::cross(aside, towards));
  up = glm::cross(towards, across);
}

bool DepthMap::mayShow(const TriangleSoup::Part& part, const RayFrame& frame, const RayBox& box) const {
  const glm::vec2 middle = frame.rayOf(part.middle);
  const float reach = part.radius_mm + 2 / cells_per_mm_;
  return middle.x + reach > box.min_mm.x && middle.x - reach < box.max_mm.x &&
         middle.y + reach > box.min_mm.y && middle.y - reach < box.max_mm.y;
}

void DepthMap::draw(const TriangleSoup& soup, const RayFrame& frame, const RayBox& box, float cell_mm,
                    const std::stop_token& stop) {
  cells_per_mm_ = 1 / cell_mm;
  steps_per_mm_ = most_steps / soup.farthest_mm;
  left_ = floored(box.min_mm.x * cells_per_mm_);
  bottom_ = floored(box.min_mm.y * cells_per_mm_);
  columns_ = floored(box.max_mm.x * cells_per_mm_) + 1 - left_;
  rows_ = floored(box.max_mm.y * cells_per_mm_) + 1 - bottom_;
  stride_ = columns_ + lanes;  // spans are written by whole groups of lanes
  steps_.assign(static_cast<std::size_t>(stride_) * static_cast<std::size_t>(rows_), nothing);
  const float steps = frame.towards.z < 0 ? -steps_per_mm_ : steps_per_mm_;
  const glm::vec2 corner(static_cast<float>(left_), static_cast<float>(bottom_));
  const Canvas canvas{steps_.data(), columns_, rows_, stride_};
  for (std::size_t number = 0; number < soup.parts.size(); ++number) {
    if (number % parts_between_looks == 0) throwIfStopAsked(stop);
    const TriangleSoup::Part& part = soup.parts[number];
    if (!mayShow(part, frame, box)) continue;
    corners_.resize(part.end_vertex - part.first_vertex);
    for (std::size_t k = 0; k < corners_.size(); ++k) {
      const glm::vec3& v = soup.vertices[part.first_vertex + k];
      corners_[k] = glm::vec3(frame.rayOf(v) * cells_per_mm_ - corner, v.z * steps);
    }
    fillPaper(canvas, corners_.data(), soup.papers[part.paper]);
  }
}

}  // namespace petalproof::light
