#include "engine/candidates/internal/head_on.h"

#include "engine/base/stopping.h"
#include "engine/candidates/internal/silhouette_runs.h"

#include <glm/vec4.hpp>

#include <algorithm>

namespace petalproof::candidates {
namespace {

// A triangle's height over the board plane: the plane through its corners.
struct Slope {
  double at_origin = 0;
  double per_x = 0;
  double per_y = 0;
  double at(double x, double y) const { return at_origin + per_x * x + per_y * y; }
};

Slope slopeOf(const glm::dvec2 (&p)[3], const double (&z)[3]) {
  const double area = doubleArea(p[0], p[1], p[2]);
  if (area == 0) return {std::max({z[0], z[1], z[2]}), 0, 0};
  const glm::dvec2 a = p[1] - p[0];
  const glm::dvec2 b = p[2] - p[0];
  const double da = z[1] - z[0];
  const double db = z[2] - z[0];
  Slope slope;
  slope.per_x = (da * b.y - db * a.y) / area;
  slope.per_y = (db * a.x - da * b.x) / area;
  slope.at_origin = z[0] - slope.per_x * p[0].x - slope.per_y * p[0].y;
  return slope;
}

std::vector<double> heightsOf(const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh) {
  std::vector<double> heights;
  heights.reserve(mesh.vertices.size());
  for (const glm::vec3& vertex : mesh.vertices)
    heights.push_back(static_cast<double>((wallFromMesh * glm::vec4(vertex, 1.0F)).z));
  return heights;
}

// Calls take(row, from, to, slope) for each run of places of each triangle, until one returns false.
template <class Take>
void forEachSlope(const scene::Mesh& mesh, const glm::mat4x3& wallFromMesh, const PlaceGrid& grid,
                  const Silhouette& seen, const Take& take) {
  const std::vector<double> heights = heightsOf(mesh, wallFromMesh);
  std::size_t current = seen.triangles.size();
  Slope slope;
  forEachRun(seen, grid, [&](int row, int from, int to, std::size_t k) {
    if (k != current) {
      const scene::Triangle& t = seen.triangles[k];
      slope = slopeOf({seen.corners[t[0]], seen.corners[t[1]], seen.corners[t[2]]},
                      {heights[t[0]], heights[t[1]], heights[t[2]]});
      current = k;
    }
    return take(row, from, to, slope);
  });
}

void markInner(const scene::Scene& scene, const PlaceGrid& grid, const std::vector<InnerHalf>& inner,
               const std::stop_token& stop, HeadOnView& view) {
  view.inner.assign(grid.places(), -1);
  for (std::size_t k = 0; k < inner.size(); ++k) {
    throwIfStopAsked(stop);
    const double reach = std::max(inner[k].half_length, inner[k].half_width);
    const glm::dvec2 low = inner[k].at - reach;
    const glm::dvec2 high = inner[k].at + reach;
    for (int row = grid.y.firstFrom(low.y); row < grid.y.firstAfter(high.y); ++row)
      for (int column = grid.x.firstFrom(low.x); column < grid.x.firstAfter(high.x); ++column) {
        if (!inner[k].has({grid.x.at(column), grid.y.at(row)})) continue;
        std::int32_t& largest = view.inner[grid.place(column, row)];
        if (largest < 0 ||
            scene.blooms[static_cast<std::size_t>(largest)].diameter_mm < scene.blooms[k].diameter_mm)
          largest = static_cast<std::int32_t>(k);
      }
  }
}

// Counts hidden places by bloom. Neighbouring places mostly show the same bloom, which is found at once.
class FaceCounts {
 public:
  void add(std::int32_t bloom) {
    if (last_ >= faces_.size() || faces_[last_].bloom != bloom) last_ = find(bloom);
    ++faces_[last_].places;
  }
  std::vector<FaceHidden> faces() const {
    std::vector<FaceHidden> sorted = faces_;
    std::sort(sorted.begin(), sorted.end(),
              [](const FaceHidden& a, const FaceHidden& b) { return a.bloom < b.bloom; });
    return sorted;
  }

 private:
  std::size_t find(std::int32_t bloom) {
    const auto known = std::find_if(faces_.begin(), faces_.end(),
                                    [&](const FaceHidden& face) { return face.bloom == bloom; });
    if (known != faces_.end()) return static_cast<std::size_t>(known - faces_.begin());
    faces_.push_back({bloom, 0});
    return faces_.size() - 1;
  }
  std::vector<FaceHidden> faces_;
  std::size_t last_ = 0;
};

}  // namespace

bool InnerHalf::has(glm::dvec2 place) const {
  const glm::dvec2 from = place - at;
  const double u = (from.x * along.y - from.y * along.x) / half_width;
  const double v = (from.x * along.x + from.y * along.y) / half_length;
  return u * u + v * v < 1;
}

HeadOnView headOnView(const scene::Scene& scene, const PlaceGrid& grid, const std::vector<InnerHalf>& inner,
                      const std::stop_token& stop) {
  HeadOnView view;
  markInner(scene, grid, inner, stop, view);
  view.bloom.assign(grid.places(), -1);
  view.height_mm.assign(grid.places(), HeadOnView::nothing);
  view.face.assign(scene.blooms.size(), 0);
  for (std::size_t k = 0; k < scene.blooms.size(); ++k) {
    const scene::BloomInstance& bloom = scene.blooms[k];
    if (bloom.panel_column < 0) continue;
    throwIfStopAsked(stop);
    const scene::Mesh& mesh = scene.meshes[bloom.mesh];
    const Silhouette seen = silhouetteHeadOn(mesh, bloom.wallFromMesh);
    forEachSlope(mesh, bloom.wallFromMesh, grid, seen, [&](int row, int from, int to, const Slope& slope) {
      for (int column = from; column < to; ++column) {
        const std::uint32_t place = grid.place(column, row);
        const auto height = static_cast<float>(slope.at(grid.x.at(column), grid.y.at(row)));
        if (view.height_mm[place] >= height) continue;
        view.height_mm[place] = height;
        view.bloom[place] = static_cast<std::int32_t>(k);
      }
      return true;
    });
  }
  for (const std::int32_t bloom : view.bloom)
    if (bloom >= 0) ++view.face[static_cast<std::size_t>(bloom)];
  view.blooms = PlaceBits(0, 0, grid.x.count(), grid.y.count());
  for (int row = 0; row < grid.y.count(); ++row)
    for (int column = 0; column < grid.x.count(); ++column) {
      const std::uint32_t place = grid.place(column, row);
      if (view.bloom[place] >= 0 || view.inner[place] >= 0) view.blooms.set(column, row);
    }
  return view;
}

HeadOnLook lookHeadOn(const HeadOnView& view, const PlaceGrid& grid, const scene::Mesh& mesh,
                      const glm::mat4x3& wallFromMesh, const Silhouette& seen, const scene::Scene& scene,
                      double diameter_mm) {
  HeadOnLook look;
  if (seen.triangles.empty()) return look;
  PlaceBits hidden = frameOf(seen, grid);
  FaceCounts counts;
  const auto hide = [&](std::uint32_t place) {
    if (const std::int32_t bloom = view.bloom[place]; bloom >= 0) counts.add(bloom);
    const std::int32_t inner = view.inner[place];
    if (inner < 0 || scene.blooms[static_cast<std::size_t>(inner)].diameter_mm <= diameter_mm) return true;
    look.reaches_into = inner;
    return false;
  };
  forEachSlope(mesh, wallFromMesh, grid, seen, [&](int row, int from, int to, const Slope& slope) {
    const double in_row = slope.at(0, grid.y.at(row));
    return view.blooms.forEachInRun(row, from, to, hidden, [&](int column) {
      const std::uint32_t place = grid.place(column, row);
      if (static_cast<float>(in_row + slope.per_x * grid.x.at(column)) <= view.height_mm[place]) return true;
      hidden.set(column, row);
      return hide(place);
    });
  });
  look.faces = counts.faces();
  return look;
}

}  // namespace petalproof::candidates
