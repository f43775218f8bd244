#include "engine/arrange/internal/arrange_kinds.h"

#include "engine/base/hash.h"
#include "engine/plan/plan_defaults.h"
#include "engine/scene/shapes.h"

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace petalproof::arrange {
namespace {

// A maker's own mesh counts as a disc of this share of its radius: petals leave notches. By eye.
constexpr float mesh_radius_share = 0.9F;

// CIE L*a*b* (CIE 15:2004, white D65), rounded to whole numbers so that the last bit of a cube root decides
// nothing.
glm::vec3 labOf(Colour colour) {
  const glm::dvec3 c(linearFromSrgb(colour));
  const auto f = [](double t) {
    return t > 216.0 / 24389.0 ? std::cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
  };
  const double x = f((0.4124 * c.x + 0.3576 * c.y + 0.1805 * c.z) / 0.9505);
  const double y = f(0.2126 * c.x + 0.7152 * c.y + 0.0722 * c.z);
  const double z = f((0.0193 * c.x + 0.1192 * c.y + 0.9505 * c.z) / 1.0890);
  return {static_cast<float>(std::round(116 * y - 16)), static_cast<float>(std::round(500 * (x - y))),
          static_cast<float>(std::round(200 * (y - z)))};
}

// Cosine and sine of `step` times 15 degrees, from square roots: the same on every machine.
glm::dvec2 stepDirection(int step) {
  const double c15 = (std::sqrt(6.0) + std::sqrt(2.0)) / 4;
  const double s15 = (std::sqrt(6.0) - std::sqrt(2.0)) / 4;
  glm::dvec2 direction{1, 0};
  for (int k = 0; k < step % 6; ++k)
    direction = {direction.x * c15 - direction.y * s15, direction.x * s15 + direction.y * c15};
  for (int k = 0; k < step / 6; ++k) direction = {-direction.y, direction.x};
  return direction;
}

double cross(const glm::dvec2& a, const glm::dvec2& b) { return a.x * b.y - a.y * b.x; }

// Counts how many meshes cover each cell of a raster around their axis, y down.
class Silhouette {
 public:
  explicit Silhouette(double reach_cells)
      : half_(static_cast<int>(reach_cells) + 2), cells_(2 * half_ + 1, 2 * half_ + 1) {}

  void startMesh() { ++mesh_; }

  void addTriangle(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c) {
    const double area = cross(b - a, c - a);
    if (area == 0) return;
    const glm::dvec2 low = glm::min(a, glm::min(b, c));
    const glm::dvec2 high = glm::max(a, glm::max(b, c));
    for (int y = clamped(std::ceil(low.y)); y <= clamped(std::floor(high.y)); ++y)
      for (int x = clamped(std::ceil(low.x)); x <= clamped(std::floor(high.x)); ++x) {
        const glm::dvec2 p(x, y);
        const double u = cross(b - a, p - a) / area;
        const double v = cross(c - b, p - b) / area;
        const double w = cross(a - c, p - c) / area;
        if (u >= 0 && v >= 0 && w >= 0) cover(x, y);
      }
  }

  void addDisc(double radius_cells) {
    for (int y = -half_; y <= half_; ++y)
      for (int x = -half_; x <= half_; ++x)
        if (x * x + y * y <= radius_cells * radius_cells) cover(x, y);
  }

  // The runs of cells that at least `needed` meshes cover.
  std::vector<FootprintRun> runs(int needed) const {
    std::vector<FootprintRun> runs;
    for (int y = 0; y < cells_.rows(); ++y)
      for (int x = 0; x < cells_.columns(); ++x) {
        if (cells_.at(x, y).meshes < needed) continue;
        const int first = x;
        while (x + 1 < cells_.columns() && cells_.at(x + 1, y).meshes >= needed) ++x;
        runs.push_back({y - half_, first - half_, x - half_});
      }
    return runs;
  }

 private:
  int clamped(double value) const { return std::clamp(static_cast<int>(value), -half_, half_); }

  struct Covered {
    int meshes = 0;
    int last = 0;  // the last mesh that covers it
  };

  void cover(int x, int y) {
    Covered& cell = cells_.at(x + half_, y + half_);
    if (cell.last == mesh_) return;
    cell.last = mesh_;
    ++cell.meshes;
  }

  int half_;
  Grid<Covered> cells_;
  int mesh_ = 1;
};

TurnedFootprint discFootprint(float radius, double cell_mm) {
  Silhouette silhouette(radius / cell_mm);
  silhouette.addDisc(radius * mesh_radius_share / cell_mm);
  return {silhouette.runs(1), radius, radius, radius, radius};
}

// The mesh's vertices seen from the front at this turn, in mm, y down.
std::vector<glm::dvec2> seenFromFront(const scene::Mesh& mesh, int step) {
  const glm::dvec2 d = stepDirection(step);
  std::vector<glm::dvec2> seen;
  for (const glm::vec3& v : mesh.vertices)  // clockwise
    seen.emplace_back(v.x * d.x + v.y * d.y, v.x * d.y - v.y * d.x);
  return seen;
}

void widen(TurnedFootprint& footprint, const std::vector<glm::dvec2>& seen) {
  for (const glm::dvec2& p : seen) {
    footprint.left = std::max(footprint.left, static_cast<float>(-p.x));
    footprint.right = std::max(footprint.right, static_cast<float>(p.x));
    footprint.top = std::max(footprint.top, static_cast<float>(-p.y));
    footprint.bottom = std::max(footprint.bottom, static_cast<float>(p.y));
  }
}

// Handmade copies differ a little: a cell counts as covered if enough copies cover it.
TurnedFootprint footprintOf(const scene::ShapeSpec& spec, int step, float reach, double cell_mm,
                            const Copies& copies) {
  Silhouette silhouette(reach / cell_mm);
  TurnedFootprint footprint;
  for (int copy = 0; copy < copies.number; ++copy) {
    scene::ShapeSpec made = spec;
    made.variation = 1;
    made.copy_hash =
        hashOf({copies.seed, static_cast<std::uint64_t>(step), static_cast<std::uint64_t>(copy)});
    const scene::Mesh mesh = scene::makeShape(made);
    std::vector<glm::dvec2> seen = seenFromFront(mesh, step);
    widen(footprint, seen);
    for (glm::dvec2& p : seen) p /= cell_mm;
    silhouette.startMesh();
    for (const scene::Triangle& t : mesh.triangles)
      silhouette.addTriangle(seen[t[0]], seen[t[1]], seen[t[2]]);
  }
  footprint.runs = silhouette.runs(copies.needed);
  return footprint;
}

void addFootprints(ArrangeKind& kind, const plan::Bloom& bloom, const scene::ShapeSpec& spec, double cell_mm,
                   const Copies& copies) {
  const bool shape = std::holds_alternative<plan::Shape>(bloom.form);
  for (int step = 0; step < turn_steps; ++step) {
    const bool needed = step == 0 || (copies.turns >> step & 1) != 0;  // turn 0 also gives the area
    kind.turns.push_back(!needed ? TurnedFootprint{}
                         : shape ? footprintOf(spec, step, kind.radius, cell_mm, copies)
                                 : discFootprint(kind.radius, cell_mm));
  }
  for (const FootprintRun& run : kind.turns.front().runs)
    kind.area += (run.last - run.first + 1) * cell_mm * cell_mm;
}

}  // namespace

ArrangeKind arrangeKindOf(const plan::Bloom& bloom, Units units, double cell_mm, const Copies& copies) {
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  const double diameter = toMillimetres(bloom.diameter, units);
  const double plate = bloom.plate ? toMillimetres(*bloom.plate, units) : plan::usual_plate_share * diameter;
  scene::ShapeSpec spec;
  spec.diameter_mm = spec.width_mm = diameter;
  ArrangeKind kind;
  if (shape) {
    const scene::ShapeFacts& facts = scene::factsOf(*shape);
    kind.greenery = facts.has_width;
    spec.shape = *shape;
    if (kind.greenery)
      spec.width_mm = bloom.width ? toMillimetres(*bloom.width, units) : facts.width_share * diameter;
    spec.depth_mm = bloom.depth ? toMillimetres(*bloom.depth, units) : facts.depth_share * diameter;
    spec.petals = bloom.petals.value_or(0);
    spec.layers = bloom.layers.value_or(0);
  }
  kind.diameter = static_cast<float>(diameter);
  kind.width = static_cast<float>(spec.width_mm);
  kind.radius = std::max(kind.diameter, kind.width) / 2;
  kind.plate_radius = static_cast<float>(plate / 2);
  if (!bloom.colours.empty()) kind.lab = labOf(bloom.colours.front());
  addFootprints(kind, bloom, spec, cell_mm, copies);
  return kind;
}

float likeness(const ArrangeKind& a, const ArrangeKind& b) {
  constexpr float unlike = 30.0F;
  return std::max(0.0F, 1.0F - glm::distance(a.lab, b.lab) / unlike);
}

}  // namespace petalproof::arrange
