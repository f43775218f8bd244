#include "tests/fill/slow_rules.h"

#include "engine/scene/scene.h"
#include "engine/scene/shapes.h"
#include "engine/visibility/visibility_buffer.h"

#include <fmt/format.h>

#include <glm/common.hpp>
#include <glm/geometric.hpp>
#include <glm/vec4.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <variant>

namespace petalproof::testing {
namespace {

// A bloom's highest point over each place, head-on; places in the middle of whole millimetres.
struct HeightMap {
  int left = 0;
  int bottom = 0;
  int width = 0;
  int height = 0;
  std::vector<float> z;  // -1: nothing

  float at(int x, int y) const {
    if (x < left || y < bottom || x >= left + width || y >= bottom + height) return -1;
    return z[static_cast<std::size_t>(y - bottom) * static_cast<std::size_t>(width) +
             static_cast<std::size_t>(x - left)];
  }
};

struct Reckoned {
  const scene::BloomInstance* bloom = nullptr;
  bool filler = false;
  std::vector<glm::dvec3> corners;
  glm::dvec2 low{0};
  glm::dvec2 high{0};
  HeightMap heights;
};

// How high a triangle is over a place; none beside it.
std::optional<double> heightOver(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c,
                                 glm::dvec2 p) {
  const auto cross = [](glm::dvec2 u, glm::dvec2 v) { return u.x * v.y - u.y * v.x; };
  const glm::dvec2 ab = glm::dvec2(b) - glm::dvec2(a);
  const glm::dvec2 ac = glm::dvec2(c) - glm::dvec2(a);
  const double area = cross(ab, ac);
  if (std::abs(area) < 1e-12) return std::nullopt;
  const double v = cross(p - glm::dvec2(a), ac) / area;
  const double w = cross(ab, p - glm::dvec2(a)) / area;
  if (v < 0 || w < 0 || v + w > 1) return std::nullopt;
  return a.z + v * (b.z - a.z) + w * (c.z - a.z);
}

void drawTriangle(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c, HeightMap& map) {
  const auto from = glm::dvec2(glm::floor(glm::min(a, glm::min(b, c))));
  const auto to = glm::dvec2(glm::ceil(glm::max(a, glm::max(b, c))));
  for (int y = static_cast<int>(from.y); y < static_cast<int>(to.y); ++y)
    for (int x = static_cast<int>(from.x); x < static_cast<int>(to.x); ++x)
      if (const auto z = heightOver(a, b, c, {x + 0.5, y + 0.5})) {
        float& known = map.z[static_cast<std::size_t>(y - map.bottom) * static_cast<std::size_t>(map.width) +
                             static_cast<std::size_t>(x - map.left)];
        known = std::max(known, static_cast<float>(*z));
      }
}

Reckoned reckon(const scene::Scene& scene, const scene::BloomInstance& bloom) {
  Reckoned one;
  one.bloom = &bloom;
  one.filler = bloom.panel_column < 0;
  const scene::Mesh& mesh = scene.meshes[bloom.mesh];
  one.low = glm::dvec2(std::numeric_limits<double>::infinity());
  one.high = -one.low;
  for (const glm::vec3& vertex : mesh.vertices) {
    one.corners.emplace_back(bloom.wallFromMesh * glm::vec4(vertex, 1.0F));
    one.low = glm::min(one.low, glm::dvec2(one.corners.back()));
    one.high = glm::max(one.high, glm::dvec2(one.corners.back()));
  }
  HeightMap& map = one.heights;
  map.left = static_cast<int>(std::floor(one.low.x));
  map.bottom = static_cast<int>(std::floor(one.low.y));
  map.width = static_cast<int>(std::ceil(one.high.x)) - map.left + 1;
  map.height = static_cast<int>(std::ceil(one.high.y)) - map.bottom + 1;
  map.z.assign(static_cast<std::size_t>(map.width) * static_cast<std::size_t>(map.height), -1.0F);
  for (const scene::Triangle& t : mesh.triangles)
    drawTriangle(one.corners[t[0]], one.corners[t[1]], one.corners[t[2]], map);
  return one;
}

class Reckoning {
 public:
  Reckoning(const plan::LoadedPlan& plan, const scene::Scene& scene) : plan_(plan.plan), scene_(scene) {
    for (const scene::BloomInstance& bloom : scene.blooms) all_.push_back(reckon(scene, bloom));
  }
  std::vector<std::string> broken() {
    for (const Reckoned& filler : all_) {
      if (!filler.filler) continue;
      checkPlate(filler);
      checkOverhang(filler);
      checkInnerHalves(filler);
    }
    for (const Reckoned& bloom : all_)
      if (!bloom.filler) checkFace(bloom);
    checkStock();
    return std::move(broken_);
  }

 private:
  std::string nameOf(const Reckoned& one) const {
    return fmt::format("{} {} at {:.2f}, {:.2f}", one.filler ? "filler" : "bloom",
                       plan_.blooms[static_cast<std::size_t>(one.bloom->kind)].name, one.bloom->at_mm.x,
                       one.bloom->at_mm.y);
  }

  void checkPlate(const Reckoned& filler) {
    const double radius = filler.bloom->plate_mm / 2;
    bool on_board = true;
    for (double r = 0; r <= radius; r += radius / 16)
      for (int step = 0; step < 120; ++step) {
        const double a = 2 * pi * step / 120;
        const glm::dvec2 place =
            filler.bloom->at_mm + glm::dvec2(std::cos(a), std::sin(a)) * (r * (1 - 1e-9));
        const visibility::Sees sees = visibility::boardPlaneAt(scene_.panels, {place}).sees();
        on_board = on_board && (sees == visibility::Sees::board || sees == visibility::Sees::seam);
      }
    if (!on_board)
      broken_.push_back(nameOf(filler) + ": its plate isn't on board, or on board across a seam");
    for (const Reckoned& other : all_) {
      if (&other == &filler) continue;
      const double apart = glm::distance(other.bloom->at_mm, filler.bloom->at_mm);
      if (apart < radius + other.bloom->plate_mm / 2)
        broken_.push_back(nameOf(filler) + ": its plate meets that of " + nameOf(other));
    }
  }

  void checkOverhang(const Reckoned& filler) {
    const double diameter = filler.bloom->diameter_mm;
    const glm::dvec2 wall(scene_.panels.width_mm(), scene_.panels.height_mm());
    const double side = std::max({-filler.low.x, filler.high.x - wall.x, filler.high.y - wall.y});
    if (side > diameter / 3 + 1e-3)
      broken_.push_back(nameOf(filler) + ": hangs too far past a side or the top");
    if (-filler.low.y > diameter / 2 + 1e-3)
      broken_.push_back(nameOf(filler) + ": hangs too far past the bottom");
  }

  // Half as long and half as wide as the bloom.
  bool inInnerHalf(const Reckoned& of, glm::dvec2 place, double less_mm) const {
    const plan::Bloom& kind = plan_.blooms[static_cast<std::size_t>(of.bloom->kind)];
    const auto* shape = std::get_if<plan::Shape>(&kind.form);
    const bool green = shape != nullptr && scene::factsOf(*shape).has_width;
    const double length = of.bloom->diameter_mm;
    const double width = !green       ? length
                         : kind.width ? toMillimetres(*kind.width, plan_)
                                      : length * scene::factsOf(*shape).width_share;
    if (width / 4 <= less_mm) return false;
    const glm::dvec2 up = glm::normalize(glm::dvec2(of.bloom->wallFromMesh[1]));
    const glm::dvec2 from = place - of.bloom->at_mm;
    const double along = glm::dot(from, up) / (length / 4 - less_mm);
    const double across = (from.x * up.y - from.y * up.x) / (width / 4 - less_mm);
    return along * along + across * across < 1;
  }

  // The bloom seen at a place, of all but fillers or of all.
  const Reckoned* topAt(int x, int y, bool fillers_too) const {
    const Reckoned* top = nullptr;
    float highest = -1;
    for (const Reckoned& one : all_) {
      if (one.filler && !fillers_too) continue;
      const float z = one.heights.at(x, y);
      if (z <= highest) continue;
      highest = z;
      top = &one;
    }
    return top;
  }

  template <class Visit>
  void forEachPlace(const Reckoned& one, const Visit& visit) const {
    for (int y = one.heights.bottom; y < one.heights.bottom + one.heights.height; ++y)
      for (int x = one.heights.left; x < one.heights.left + one.heights.width; ++x)
        if (one.heights.at(x, y) >= 0) visit(x, y);
  }

  // Seen in front of what hangs, within a larger bloom's inner half. A rim as wide as the engine's grid (2
  // mm) is left out, and slivers no larger than one of its cells.
  void checkInnerHalves(const Reckoned& filler) {
    std::vector<int> reached(all_.size(), 0);
    forEachPlace(filler, [&](int x, int y) {
      const Reckoned* top = topAt(x, y, true);
      if (top != &filler) return;
      for (std::size_t k = 0; k < all_.size(); ++k)
        if (all_[k].bloom->diameter_mm > filler.bloom->diameter_mm &&
            inInnerHalf(all_[k], {x + 0.5, y + 0.5}, 2))
          ++reached[k];
    });
    for (std::size_t k = 0; k < all_.size(); ++k)
      if (reached[k] > 4)
        broken_.push_back(fmt::format("{}: reaches {} sq mm into the inner half of {}", nameOf(filler),
                                      reached[k], nameOf(all_[k])));
  }

  // Each filler's share of what was seen before any filler, added up. Off the wall faces count as well.
  void checkFace(const Reckoned& bloom) {
    int face = 0;
    int hidden = 0;
    forEachPlace(bloom, [&](int x, int y) {
      const glm::dvec2 place(x + 0.5, y + 0.5);
      if (place.x < 0 || place.y < 0 || place.x > scene_.panels.width_mm() ||
          place.y > scene_.panels.height_mm())
        return;
      if (topAt(x, y, false) != &bloom) return;
      ++face;
      const float z = bloom.heights.at(x, y);
      for (const Reckoned& filler : all_)
        if (filler.filler && filler.bloom->diameter_mm < bloom.bloom->diameter_mm &&
            filler.heights.at(x, y) > z)
          ++hidden;
    });
    const double most = bloom.bloom->diameter_mm > 12 * 25.4 ? 0.1 : 0.2;
    // What a rim of half a millimetre round a face of that size may differ between two grids.
    const double rounding = std::sqrt(static_cast<double>(face));
    if (hidden > most * face + rounding)
      broken_.push_back(
          fmt::format("{}: fillers hide {} of {} sq mm of its face", nameOf(bloom), hidden, face));
  }

  void checkStock() {
    for (std::size_t kind = 0; kind < plan_.blooms.size(); ++kind) {
      if (!plan_.blooms[kind].stock) continue;
      const auto used = std::count_if(all_.begin(), all_.end(), [&](const Reckoned& one) {
        return one.filler && one.bloom->kind == static_cast<int>(kind);
      });
      if (used > *plan_.blooms[kind].stock)
        broken_.push_back(fmt::format("{} of {} are used, {} are in stock", used, plan_.blooms[kind].name,
                                      *plan_.blooms[kind].stock));
    }
  }

  const plan::Plan& plan_;
  const scene::Scene& scene_;
  std::vector<Reckoned> all_;
  std::vector<std::string> broken_;
};

}  // namespace

std::vector<std::string> brokenRules(const plan::LoadedPlan& filled) {
  const Result<scene::Scene> scene = scene::buildScene(filled);
  if (!scene) return {"the plan can't be built"};
  return Reckoning(filled, *scene.value).broken();
}

}  // namespace petalproof::testing
