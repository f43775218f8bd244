#include "tests/arrange/measures.h"

#include "engine/plan/read_plan.h"
#include "engine/scene/shapes.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

namespace petalproof::testing {
namespace {

bool isRound(const plan::Bloom& bloom) {
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  return !shape || !scene::factsOf(*shape).has_width;
}

std::vector<const scene::BloomInstance*> roundOnes(const scene::Scene& scene, const plan::Plan& plan) {
  std::vector<const scene::BloomInstance*> round;
  for (const scene::BloomInstance& bloom : scene.blooms)
    if (isRound(plan.blooms[static_cast<std::size_t>(bloom.kind)])) round.push_back(&bloom);
  return round;
}

double side(const plan::Plan& plan) {
  return std::min(plan.wall.panel.width.value, plan.wall.panel.height.value);
}

// Calls `see` with each two round blooms whose discs meet, and how deep.
template <class See>
void eachMeeting(const scene::Scene& scene, const plan::Plan& plan, See see) {
  const auto round = roundOnes(scene, plan);
  for (std::size_t i = 0; i < round.size(); ++i)
    for (std::size_t j = i + 1; j < round.size(); ++j) {
      const double reach = (round[i]->diameter_mm + round[j]->diameter_mm) / 2;
      const double distance = glm::distance(round[i]->at_mm, round[j]->at_mm);
      if (distance < reach) see(*round[i], *round[j], reach - distance);
    }
}

// A raster of the wall; y up, like the wall frame.
class Raster {
 public:
  explicit Raster(const scene::PanelGrid& panels)
      : cells_(static_cast<int>(panels.width_mm() / cell_mm) + 1,
               static_cast<int>(panels.height_mm() / cell_mm) + 1, 0) {}

  void cover(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c) {
    const auto side_of = [](const glm::dvec2& p, const glm::dvec2& q, const glm::dvec2& at) {
      return (q.x - p.x) * (at.y - p.y) - (q.y - p.y) * (at.x - p.x);
    };
    const glm::dvec2 low = glm::min(a, glm::min(b, c)) / cell_mm;
    const glm::dvec2 high = glm::max(a, glm::max(b, c)) / cell_mm;
    const int last_x = std::min(cells_.columns() - 1, static_cast<int>(high.x));
    const int last_y = std::min(cells_.rows() - 1, static_cast<int>(high.y));
    for (int y = std::max(0, static_cast<int>(low.y)); y <= last_y; ++y)
      for (int x = std::max(0, static_cast<int>(low.x)); x <= last_x; ++x) {
        const glm::dvec2 at = centre(x, y);
        const double u = side_of(a, b, at);
        const double v = side_of(b, c, at);
        const double w = side_of(c, a, at);
        if ((u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)) cells_.at(x, y) = 1;
      }
  }

  double bareShareOf(const scene::PanelGrid& panels) const {
    int board = 0;
    int bare = 0;
    for (int y = 0; y < cells_.rows(); ++y)
      for (int x = 0; x < cells_.columns(); ++x) {
        if (!onPanel(panels, centre(x, y))) continue;
        ++board;
        bare += cells_.at(x, y) ? 0 : 1;
      }
    return static_cast<double>(bare) / board;
  }

 private:
  static constexpr double cell_mm = 6.35;

  static glm::dvec2 centre(int x, int y) { return {(x + 0.5) * cell_mm, (y + 0.5) * cell_mm}; }

  static bool onPanel(const scene::PanelGrid& panels, const glm::dvec2& at) {
    for (int row = 0; row < panels.rows; ++row)
      for (int column = 0; column < panels.columns; ++column) {
        const glm::dvec2 from{at.x - panels.left_mm(column), panels.top_mm(row) - at.y};
        if (panels.panelAt(column, row) && from.x >= 0 && from.y >= 0 && from.x < panels.panel_width_mm &&
            from.y < panels.panel_height_mm)
          return true;
      }
    return false;
  }

  Grid<char> cells_;
};

const plan::Bloom& bloomNamed(const plan::Plan& plan, const std::string& name) {
  return *findBloom(plan, name);
}

double distanceOf(const plan::TapePoint& a, const plan::TapePoint& b) {
  return std::hypot(a.from_left.value - b.from_left.value, a.from_top.value - b.from_top.value);
}

bool onOnePanel(const scene::BloomInstance& a, const scene::BloomInstance& b) {
  return a.panel_column == b.panel_column && a.panel_row == b.panel_row;
}

// Evenly spaced to a fifth, next to each other, the middle one within a twentieth of `size` of the line.
bool inLine(const glm::dvec2& a, const glm::dvec2& middle, const glm::dvec2& b, double size) {
  const double first = glm::distance(a, middle);
  const double second = glm::distance(middle, b);
  if (std::max(first, second) > 1.2 * std::min(first, second) || std::max(first, second) > 1.3 * size)
    return false;
  const glm::dvec2 u = b - a;
  const glm::dvec2 v = middle - a;
  return std::abs(u.x * v.y - u.y * v.x) / glm::length(u) < size / 20 && glm::length(u) > first;
}

bool inRow(const plan::Plan& plan, const plan::Placement& a, const plan::Placement& b,
           const plan::Placement& c) {
  const double d[3] = {bloomNamed(plan, a.bloom).diameter.value, bloomNamed(plan, b.bloom).diameter.value,
                       bloomNamed(plan, c.bloom).diameter.value};
  if (std::max({d[0], d[1], d[2]}) > 1.25 * std::min({d[0], d[1], d[2]})) return false;
  const auto place = [](const plan::Placement& p) {
    return glm::dvec2{p.at.from_left.value, p.at.from_top.value};
  };
  return inLine(place(a), place(b), place(c), (d[0] + d[1] + d[2]) / 3);
}

int matches(const plan::Plan& plan, const plan::Layout& a, const plan::Layout& b, bool turned) {
  std::set<std::size_t> used;
  int found = 0;
  for (const plan::Placement& p : a.blooms)
    for (std::size_t k = 0; k < b.blooms.size(); ++k) {
      plan::TapePoint at = b.blooms[k].at;
      if (turned)
        at = {{plan.wall.panel.width.value - at.from_left.value},
              {plan.wall.panel.height.value - at.from_top.value}};
      if (used.contains(k) || b.blooms[k].bloom != p.bloom || distanceOf(p.at, at) > side(plan) / 10)
        continue;
      used.insert(k);
      ++found;
      break;
    }
  return found;
}

// How far a disc reaches past each edge of its panel beside which no panel hangs.
double pastOuterEdges(const scene::PanelGrid& panels, const scene::BloomInstance& bloom) {
  const int column = bloom.panel_column;
  const int row = bloom.panel_row;
  const double r = bloom.diameter_mm / 2;
  double past = 0;
  if (!panels.panelAt(column - 1, row)) past = std::max(past, panels.left_mm(column) - bloom.at_mm.x + r);
  if (!panels.panelAt(column + 1, row))
    past = std::max(past, bloom.at_mm.x + r - panels.left_mm(column) - panels.panel_width_mm);
  if (!panels.panelAt(column, row - 1)) past = std::max(past, bloom.at_mm.y + r - panels.top_mm(row));
  if (!panels.panelAt(column, row + 1))
    past = std::max(past, panels.top_mm(row) - panels.panel_height_mm - bloom.at_mm.y + r);
  return past;
}

}  // namespace

plan::Plan planOf(const tables::ArrangeRequest& request, const arrange::Arrangement& arrangement) {
  plan::Plan plan;
  plan.units = request.units;
  plan.seed = request.seed;
  plan.wall = request.wall;
  plan.wall.grid = arrangement.grid;
  plan.blooms = request.blooms;
  plan.layouts = arrangement.layouts;
  return plan;
}

scene::Scene sceneOf(const plan::Plan& plan) {
  plan::LoadedPlan loaded;
  loaded.plan = plan;
  auto scene = scene::buildScene(loaded);
  if (!scene) throw std::runtime_error("no scene: " + scene.problems.front().message);
  return std::move(*scene.value);
}

std::map<std::string, int> onWall(const plan::Plan& plan) {
  std::map<std::string, int> numbers;
  for (const plan::Cell& cell : plan.wall.grid.cells())
    if (const plan::Layout* layout = plan::findLayout(plan, cell.layout))
      for (const plan::Placement& placement : layout->blooms) ++numbers[placement.bloom];
  return numbers;
}

double bareShare(const scene::Scene& scene) {
  Raster raster(scene.panels);
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const scene::Mesh& mesh = scene.meshes[bloom.mesh];
    const auto at = [&](std::uint32_t vertex) {
      const glm::vec3 p = bloom.wallFromMesh * glm::vec4(mesh.vertices[vertex], 1.0F);
      return glm::dvec2{p.x, p.y};
    };
    for (const scene::Triangle& t : mesh.triangles) raster.cover(at(t[0]), at(t[1]), at(t[2]));
  }
  return raster.bareShareOf(scene.panels);
}

PlateMeasure plateMeasure(const scene::Scene& scene) {
  PlateMeasure measure;
  const scene::PanelGrid& panels = scene.panels;
  for (std::size_t i = 0; i < scene.blooms.size(); ++i) {
    const scene::BloomInstance& a = scene.blooms[i];
    const double r = a.plate_mm / 2;
    const double x = a.at_mm.x - panels.left_mm(a.panel_column);
    const double y = panels.top_mm(a.panel_row) - a.at_mm.y;
    measure.farthest_off_board_mm = std::max({measure.farthest_off_board_mm, r - x, r - y,
                                              x + r - panels.panel_width_mm, y + r - panels.panel_height_mm});
    for (std::size_t j = i + 1; j < scene.blooms.size(); ++j) {
      const scene::BloomInstance& b = scene.blooms[j];
      measure.least_gap_mm =
          std::min(measure.least_gap_mm, glm::distance(a.at_mm, b.at_mm) - r - b.plate_mm / 2);
    }
  }
  return measure;
}

std::vector<Meeting> meetingsOf(const scene::Scene& scene, const plan::Plan& plan) {
  std::vector<Meeting> meetings;
  eachMeeting(scene, plan, [&](const scene::BloomInstance& a, const scene::BloomInstance& b, double depth) {
    meetings.push_back({depth / std::min(a.diameter_mm, b.diameter_mm), a.kind == b.kind, !onOnePanel(a, b)});
  });
  return meetings;
}

int whollyInside(const scene::Scene& scene, const plan::Plan& plan) {
  int inside = 0;
  eachMeeting(scene, plan, [&](const scene::BloomInstance& a, const scene::BloomInstance& b, double depth) {
    inside += depth >= std::min(a.diameter_mm, b.diameter_mm) ? 1 : 0;
  });
  return inside;
}

int straightRowsAcross(const scene::Scene& scene, const plan::Plan& plan) {
  const auto round = roundOnes(scene, plan);
  int rows = 0;
  for (const scene::BloomInstance* middle : round) {
    std::vector<const scene::BloomInstance*> near;
    for (const scene::BloomInstance* other : round)
      if (other != middle && other->kind == middle->kind &&
          glm::distance(other->at_mm, middle->at_mm) <= 1.3 * middle->diameter_mm)
        near.push_back(other);
    for (std::size_t i = 0; i < near.size(); ++i)
      for (std::size_t j = i + 1; j < near.size(); ++j)
        if (!(onOnePanel(*near[i], *middle) && onOnePanel(*near[j], *middle)) &&
            inLine(near[i]->at_mm, middle->at_mm, near[j]->at_mm, middle->diameter_mm))
          ++rows;
  }
  return rows;
}

int straightRows(const plan::Plan& plan) {
  int rows = 0;
  for (const plan::Layout& layout : plan.layouts) {
    std::vector<const plan::Placement*> round;
    for (const plan::Placement& placement : layout.blooms)
      if (isRound(bloomNamed(plan, placement.bloom))) round.push_back(&placement);
    for (const plan::Placement* middle : round)
      for (std::size_t i = 0; i < round.size(); ++i)
        for (std::size_t j = i + 1; j < round.size(); ++j)
          if (round[i] != middle && round[j] != middle && inRow(plan, *round[i], *middle, *round[j])) ++rows;
  }
  return rows;
}

double mostAlike(const plan::Plan& plan) {
  double most = 0;
  for (std::size_t i = 0; i < plan.layouts.size(); ++i)
    for (std::size_t j = i + 1; j < plan.layouts.size(); ++j)
      for (const bool turned : {false, true}) {
        const plan::Layout& a = plan.layouts[i];
        const plan::Layout& b = plan.layouts[j];
        const std::size_t blooms = std::max<std::size_t>(1, std::max(a.blooms.size(), b.blooms.size()));
        most = std::max(most, matches(plan, a, b, turned) / static_cast<double>(blooms));
      }
  return most;
}

Overhang overhangOf(const scene::Scene& scene, const plan::Plan& plan) {
  Overhang overhang;
  const double shorter = std::min(scene.panels.panel_width_mm, scene.panels.panel_height_mm);
  for (const scene::BloomInstance* bloom : roundOnes(scene, plan)) {
    const double past = pastOuterEdges(scene.panels, *bloom);
    overhang.any_mm = std::max(overhang.any_mm, past);
    if (bloom->diameter_mm <= 0.45 * shorter)
      overhang.small_share = std::max(overhang.small_share, past / bloom->diameter_mm);
    if (bloom->diameter_mm > 0.75 * shorter) overhang.large_mm = std::max(overhang.large_mm, past);
  }
  return overhang;
}

}  // namespace petalproof::testing
