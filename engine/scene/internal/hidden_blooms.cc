#include "engine/scene/internal/hidden_blooms.h"

#include "engine/base/units.h"

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <utility>

namespace petalproof::scene {
namespace {

constexpr double most_glimpses = 0.05;  // share of the looks that may reach the inner bloom
constexpr int samples = 64;             // of a coarse picture, each way
// Limits of time and memory; past them, only a part of a crowded wall is searched.
constexpr std::int64_t most_looks = 20'000'000;  // pairs, and vertices looked at
constexpr std::size_t most_pictures = 64;        // meshes whose pictures are kept at a time

constexpr double rounding = 1e-6;        // share of a radius
constexpr double picture_margin = 1.01;  // keeps the mesh off the picture's edge

// Head-on, and 8 directions each at 25, 50 and 70 degrees from it; towards the viewer, mesh frame.
std::vector<glm::dvec3> viewDirections() {
  std::vector<glm::dvec3> directions{{0, 0, 1}};
  for (const double off : {25.0, 50.0, 70.0})
    for (int k = 0; k < 8; ++k) {
      const double around = 2.0 * pi * k / 8;
      directions.emplace_back(std::sin(radians(off)) * std::cos(around),
                              std::sin(radians(off)) * std::sin(around), std::cos(radians(off)));
    }
  return directions;
}

// A mesh as seen from a direction: how far towards the viewer its front reaches, at samples x samples places
// of a square around it.
class CoarsePicture {
 public:
  CoarsePicture(const Mesh& mesh, const glm::dvec3& towards_viewer, double reach)
      : towards_(towards_viewer), reach_(reach), front_(std::size_t{samples} * samples, nothing) {
    const glm::dvec3 oblique{0.36, 0.93, 0.01};  // not along any of the view directions
    right_ = glm::normalize(glm::cross(oblique, towards_));
    up_ = glm::cross(towards_, right_);
    for (const Triangle& t : mesh.triangles)
      draw(seen(mesh.vertices[t[0]]), seen(mesh.vertices[t[1]]), seen(mesh.vertices[t[2]]));
  }

  // Whether the mesh is in front of the point at all four samples around it.
  bool hides(const glm::dvec3& point, double margin) const {
    const glm::dvec3 p = seen(point);
    const int i = static_cast<int>(std::floor(p.x - 0.5));
    const int j = static_cast<int>(std::floor(p.y - 0.5));
    if (i < 0 || j < 0 || i + 1 >= samples || j + 1 >= samples) return false;
    const double least =
        std::min({front_[at(i, j)], front_[at(i + 1, j)], front_[at(i, j + 1)], front_[at(i + 1, j + 1)]});
    return least > p.z + margin;
  }

 private:
  static constexpr float nothing = -std::numeric_limits<float>::infinity();
  static std::size_t at(int i, int j) {
    return static_cast<std::size_t>(j) * samples + static_cast<std::size_t>(i);
  }

  // In samples across and up, mm towards the viewer.
  glm::dvec3 seen(const glm::dvec3& p) const {
    const double scale = 0.5 * samples / reach_;
    return {0.5 * samples + scale * glm::dot(p, right_), 0.5 * samples + scale * glm::dot(p, up_),
            glm::dot(p, towards_)};
  }

  void draw(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c) {
    const double area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if (area == 0) return;
    const auto first = [](double low) { return std::max(0, static_cast<int>(std::ceil(low - 0.5))); };
    const auto last = [](double high) {
      return std::min(samples - 1, static_cast<int>(std::floor(high - 0.5)));
    };
    for (int j = first(std::min({a.y, b.y, c.y})); j <= last(std::max({a.y, b.y, c.y})); ++j)
      for (int i = first(std::min({a.x, b.x, c.x})); i <= last(std::max({a.x, b.x, c.x})); ++i) {
        const double x = i + 0.5;
        const double y = j + 0.5;
        const double v = ((x - a.x) * (c.y - a.y) - (y - a.y) * (c.x - a.x)) / area;
        const double w = ((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x)) / area;
        if (v < 0 || w < 0 || v + w > 1) continue;
        float& front = front_[at(i, j)];
        front = std::max(front, static_cast<float>(a.z + v * (b.z - a.z) + w * (c.z - a.z)));
      }
  }

  glm::dvec3 towards_;
  glm::dvec3 right_{0};
  glm::dvec3 up_{0};
  double reach_;
  std::vector<float> front_;
};

struct Bounds {
  double radius = 0;
  double high = 0;
};

Bounds boundsOf(const Mesh& mesh) {
  Bounds bounds;
  for (const glm::dvec3 p : mesh.vertices) {
    bounds.radius = std::max(bounds.radius, std::hypot(p.x, p.y));
    bounds.high = std::max(bounds.high, p.z);
  }
  return bounds;
}

// A placement of the plan: its layout (the number of layouts for fillers) and its number there.
using PlacementKey = std::pair<int, int>;

class Search {
 public:
  Search(const Scene& scene, const plan::LoadedPlan& loaded) : scene_(scene), loaded_(loaded) {
    bounds_.reserve(scene.meshes.size());
    for (const Mesh& mesh : scene.meshes) bounds_.push_back(boundsOf(mesh));
    for (std::size_t k = 0; k < loaded.plan.layouts.size(); ++k)
      layouts_.emplace(loaded.plan.layouts[k].name, static_cast<int>(k));
    for (const Bounds& bounds : bounds_) bin_mm_ = std::max(bin_mm_, bounds.radius);
    for (std::size_t k = 0; k < scene.blooms.size(); ++k) bins_[binOf(scene.blooms[k].at_mm)].push_back(k);
  }

  std::vector<Problem> run() {
    std::map<PlacementKey, Problem> warned;
    for (std::size_t inner = 0; inner < scene_.blooms.size() && looks_ < most_looks; ++inner) {
      const PlacementKey key = keyOf(scene_.blooms[inner]);
      if (warned.count(key)) continue;
      if (const auto outer = hidingBloom(inner))
        warned.emplace(key, warning(scene_.blooms[inner], scene_.blooms[*outer]));
    }
    std::vector<Problem> problems;
    for (auto& [key, problem] : warned) problems.push_back(std::move(problem));
    return problems;
  }

 private:
  using Bin = std::pair<std::int64_t, std::int64_t>;

  Bin binOf(const glm::dvec2& at) const {
    return {std::llround(std::floor(at.x / bin_mm_)), std::llround(std::floor(at.y / bin_mm_))};
  }

  std::optional<std::size_t> hidingBloom(std::size_t inner) {
    const Bin middle = binOf(scene_.blooms[inner].at_mm);
    for (std::int64_t i = -1; i <= 1; ++i)
      for (std::int64_t j = -1; j <= 1; ++j) {
        const auto bin = bins_.find({middle.first + i, middle.second + j});
        if (bin == bins_.end()) continue;
        for (const std::size_t outer : bin->second) {
          if (++looks_ > most_looks) return std::nullopt;
          if (outer != inner && liesInside(inner, outer)) return outer;
        }
      }
    return std::nullopt;
  }

  PlacementKey keyOf(const BloomInstance& bloom) const {
    if (bloom.panel_column < 0) return {static_cast<int>(layouts_.size()), bloom.index};
    const plan::Cell& cell = loaded_.plan.wall.grid.at(bloom.panel_column, bloom.panel_row);
    return {layouts_.at(cell.layout), bloom.index};
  }

  bool liesInside(std::size_t inner_index, std::size_t outer_index) {
    const BloomInstance& inner = scene_.blooms[inner_index];
    const BloomInstance& outer = scene_.blooms[outer_index];
    const Bounds& small = bounds_[inner.mesh];
    const Bounds& large = bounds_[outer.mesh];
    const double apart = glm::distance(inner.at_mm, outer.at_mm);
    const double slack = rounding * large.radius;
    if (apart + small.radius > large.radius + slack) return false;
    if (inner.raised_mm + small.high > outer.raised_mm + large.high + slack) return false;
    const bool twins = inner.kind == outer.kind && apart <= slack && inner.raised_mm == outer.raised_mm;
    return twins ? inner_index > outer_index : hiddenBy(inner, outer);
  }

  bool hiddenBy(const BloomInstance& inner, const BloomInstance& outer) {
    const std::vector<CoarsePicture>& pictures = picturesOf(outer.mesh);
    const glm::dmat3 outerFromWall = glm::transpose(glm::dmat3(outer.wallFromMesh));
    const glm::dvec3 shift = glm::dmat4x3(inner.wallFromMesh)[3] - glm::dmat4x3(outer.wallFromMesh)[3];
    const double margin = rounding * bounds_[outer.mesh].radius;
    const std::vector<glm::vec3>& vertices = scene_.meshes[inner.mesh].vertices;
    const double all_looks = static_cast<double>(vertices.size() * pictures.size());
    std::int64_t glimpses = 0;
    for (const glm::vec3& vertex : vertices) {
      const glm::dvec3 p = outerFromWall * (glm::dmat3(inner.wallFromMesh) * glm::dvec3(vertex) + shift);
      ++looks_;
      for (const CoarsePicture& picture : pictures) glimpses += picture.hides(p, margin) ? 0 : 1;
      if (static_cast<double>(glimpses) > most_glimpses * all_looks) return false;
    }
    return true;
  }

  const std::vector<CoarsePicture>& picturesOf(std::uint32_t mesh) {
    if (pictures_.size() >= most_pictures && !pictures_.count(mesh)) pictures_.clear();
    const auto [known, fresh] = pictures_.try_emplace(mesh);
    if (fresh)
      for (const glm::dvec3& direction : viewDirections())
        known->second.emplace_back(scene_.meshes[mesh], direction,
                                   picture_margin * std::hypot(bounds_[mesh].radius, bounds_[mesh].high));
    return known->second;
  }

  Problem warning(const BloomInstance& inner, const BloomInstance& outer) const {
    const auto& blooms = loaded_.plan.blooms;
    const auto name = [&](const BloomInstance& bloom) {
      return blooms[static_cast<std::size_t>(bloom.kind)].name;
    };
    Problem problem;
    problem.place = placeOf(inner);
    const std::string hidden =
        fmt::format("\"{}\" lies wholly inside \"{}\" and can hardly be seen", name(inner), name(outer));
    problem.message =
        inner.panel_column < 0
            ? "the filler " + hidden
            : fmt::format("{} (in {})", hidden, plan::cellName(inner.panel_column, inner.panel_row));
    return problem;
  }

  Place placeOf(const BloomInstance& bloom) const {
    const plan::PlanPlaces& places = loaded_.places;
    const auto index = static_cast<std::size_t>(bloom.index);
    const auto layout = static_cast<std::size_t>(keyOf(bloom).first);
    if (bloom.panel_column < 0 && index < places.fillers.size()) return places.fillers[index];
    if (bloom.panel_column >= 0 && layout < places.placements.size() &&
        index < places.placements[layout].size())
      return places.placements[layout][index];
    Place place;
    place.file = loaded_.file;
    return place;
  }

  const Scene& scene_;
  const plan::LoadedPlan& loaded_;
  std::vector<Bounds> bounds_;
  std::map<std::string, int> layouts_;
  double bin_mm_ = 1;
  std::map<Bin, std::vector<std::size_t>> bins_;
  std::map<std::uint32_t, std::vector<CoarsePicture>> pictures_;
  std::int64_t looks_ = 0;
};

}  // namespace

std::vector<Problem> hiddenBlooms(const Scene& scene, const plan::LoadedPlan& loaded) {
  return Search(scene, loaded).run();
}

}  // namespace petalproof::scene
