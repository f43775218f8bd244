#include "engine/candidates/internal/sites.h"

#include "engine/base/length_text.h"
#include "engine/candidates/silhouette.h"
#include "engine/scene/shapes.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <variant>

namespace petalproof::candidates {
namespace {

constexpr double no_limit = 1e9;  // larger than any bloom
// Fillers may hide at most these shares of a larger bloom's face; blooms over 12 in are the wall's
// eye-catchers.
constexpr double large_mm = 12 * 25.4;
constexpr double share_of_large = 0.10;
constexpr double share_of_other = 0.20;
// A bloom's reach from its middle, as a share of its diameter: half, and a little for sway and rounding.
constexpr double reach_share = 0.55;
// Faces are counted on a grid; counted on a finer grid a share may come out a little larger.
constexpr double share_margin = 0.97;

// A point in the inner half's own frame, where that is the unit disc.
glm::dvec2 inUnitDisc(const InnerHalf& inner, glm::dvec2 p) {
  const glm::dvec2 from = p - inner.at;
  const glm::dvec2 across{inner.along.y, -inner.along.x};
  return {glm::dot(from, across) / inner.half_width, glm::dot(from, inner.along) / inner.half_length};
}

// Width and length of an own mesh by its farthest points, each as a share of the diameter.
glm::dvec2 shareOfMesh(const scene::Mesh& mesh, double diameter_mm) {
  glm::dvec2 farthest(0);
  for (const glm::vec3& vertex : mesh.vertices)
    farthest = glm::max(farthest, glm::abs(glm::dvec2(glm::vec2(vertex))));
  return glm::min(farthest * 2.0 / diameter_mm, glm::dvec2(1));
}

// Width and length, each as a share of the diameter.
glm::dvec2 sharesOf(const plan::Bloom& bloom, const plan::Plan& plan, const scene::Mesh& mesh,
                    double diameter_mm) {
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  if (shape == nullptr) return shareOfMesh(mesh, diameter_mm);
  if (!scene::factsOf(*shape).has_width) return {1, 1};
  return {bloom.width ? toMillimetres(*bloom.width, plan) / diameter_mm : scene::factsOf(*shape).width_share,
          1};
}

std::vector<InnerHalf> innerHalvesOf(const plan::Plan& plan, const scene::Scene& scene) {
  std::vector<InnerHalf> halves;
  for (const scene::BloomInstance& bloom : scene.blooms) {
    const plan::Bloom& kind = plan.blooms[static_cast<std::size_t>(bloom.kind)];
    const glm::dvec2 quarter =
        sharesOf(kind, plan, scene.meshes[bloom.mesh], bloom.diameter_mm) * (bloom.diameter_mm / 4);
    halves.push_back({bloom.at_mm, glm::normalize(glm::dvec2(bloom.wallFromMesh[1])), quarter.y, quarter.x});
  }
  return halves;
}

int panelAt(double mm, double panel_mm, double seam_mm, int count) {
  return std::clamp(static_cast<int>(std::floor(mm / (panel_mm + seam_mm))), 0, count - 1);
}

double rounded(double value) { return std::round(value * 1e6) / 1e6; }

}  // namespace

bool reachesInto(const InnerHalf& inner, glm::dvec2 centre, double radius) {
  const glm::dvec2 from = centre - inner.at;
  // The ellipse grown by the radius; near its tips that is a little more than needed.
  InnerHalf grown = inner;
  grown.half_length += radius;
  grown.half_width += radius;
  return glm::length(inUnitDisc(grown, inner.at + from)) < 1;
}

Sites::Sites(const plan::Plan& plan, const scene::Scene& scene, const scene::FillerMaker& maker,
             const PlaceGrid& grid, const std::stop_token& stop)
    : plan_(plan),
      scene_(scene),
      maker_(maker),
      grid_(grid),
      view_(headOnView(scene, grid, innerHalvesOf(plan, scene), stop)),
      tape_step_mm_(millimetresPer(plan.units) / tapeMarksPer(plan.units)) {
  addObstacles();
  taken_.assign(scene.blooms.size(), 0);
  takeOldFillers();
}

void Sites::addObstacles() {
  double widest = 1;
  for (const scene::FillerKind& kind : maker_.kinds()) widest = std::max(widest, kind.diameter_mm);
  for (std::size_t k = 0; k < scene_.blooms.size(); ++k) {
    const scene::BloomInstance& bloom = scene_.blooms[k];
    bin_mm_ = std::max(bin_mm_, widest * reach_share + bloom.diameter_mm * reach_share);
    obstacles_.push_back({bloom.at_mm, bloom.plate_mm / 2, bloom.diameter_mm, static_cast<std::int32_t>(k)});
  }
  // No more than a million.
  bin_mm_ = std::max(bin_mm_, std::max(scene_.panels.width_mm(), scene_.panels.height_mm()) / 1000);
  bins_across_ = static_cast<int>(scene_.panels.width_mm() / bin_mm_) + 1;
  bins_down_ = static_cast<int>(scene_.panels.height_mm() / bin_mm_) + 1;
  bins_.resize(static_cast<std::size_t>(bins_across_) * static_cast<std::size_t>(bins_down_));
  const auto bin = [](double mm, double size, int count) {
    return std::clamp(static_cast<int>(std::floor(mm / size)), 0, count - 1);
  };
  for (std::size_t k = 0; k < obstacles_.size(); ++k) {
    const glm::dvec2 at = obstacles_[k].at;
    const int column = bin(at.x, bin_mm_, bins_across_);
    const int row = bin(at.y, bin_mm_, bins_down_);
    bins_[static_cast<std::size_t>(row * bins_across_ + column)].push_back(static_cast<std::uint32_t>(k));
  }
}

template <class Bars>
bool Sites::anyNear(glm::dvec2 place, const Bars& bars) const {
  const int column = static_cast<int>(std::floor(place.x / bin_mm_));
  const int row = static_cast<int>(std::floor(place.y / bin_mm_));
  for (int r = std::max(0, row - 1); r <= std::min(bins_down_ - 1, row + 1); ++r)
    for (int c = std::max(0, column - 1); c <= std::min(bins_across_ - 1, column + 1); ++c)
      for (const std::uint32_t k : bins_[static_cast<std::size_t>(r * bins_across_ + c)])
        if (bars(obstacles_[k])) return true;
  return false;
}

void Sites::takeOldFillers() {
  for (const scene::BloomInstance& filler : scene_.blooms) {
    if (filler.panel_column >= 0) continue;
    const scene::Mesh& mesh = scene_.meshes[filler.mesh];
    const Silhouette seen = silhouetteHeadOn(mesh, filler.wallFromMesh);
    for (const FaceHidden& face :
         lookHeadOn(view_, grid_, mesh, filler.wallFromMesh, seen, scene_, no_limit).faces) {
      const auto bloom = static_cast<std::size_t>(face.bloom);
      if (scene_.blooms[bloom].diameter_mm > filler.diameter_mm) taken_[bloom] += face.places;
    }
  }
}

Site Sites::nearestSite(glm::dvec2 board_mm) const {
  const scene::PanelGrid& panels = scene_.panels;
  const plan::Wall& wall = plan_.wall;
  const double from_top_mm = panels.height_mm() - board_mm.y;
  const int column = panelAt(board_mm.x, panels.panel_width_mm, panels.seam_mm, panels.columns);
  const int row = panelAt(from_top_mm, panels.panel_height_mm, panels.seam_mm, panels.rows);
  const double unit_mm = millimetresPer(plan_.units);
  const auto onTape = [&](double mm, int number, Length panel, double pitch_mm) {
    const double steps = std::round((mm - number * pitch_mm) / tape_step_mm_);
    return rounded(number * (panel.value + wall.seam.value) + steps * tape_step_mm_ / unit_mm);
  };
  Site site;
  site.at.from_left.value =
      onTape(board_mm.x, column, wall.panel.width, panels.panel_width_mm + panels.seam_mm);
  site.at.from_top.value =
      onTape(from_top_mm, row, wall.panel.height, panels.panel_height_mm + panels.seam_mm);
  site.from_corner_mm = {toMillimetres(site.at.from_left, plan_), toMillimetres(site.at.from_top, plan_)};
  site.board_mm = {site.from_corner_mm.x, panels.height_mm() - site.from_corner_mm.y};
  return site;
}

// Whether a plate reaches past the wall's outline or over an empty cell.
Barred Sites::pastBoard(double radius, glm::dvec2 p) const {
  const scene::PanelGrid& panels = scene_.panels;
  if (p.x < radius || p.y < radius || p.x > panels.width_mm() - radius || p.y > panels.height_mm() - radius)
    return {Bar::edge, -1};
  const double pitch_x = panels.panel_width_mm + panels.seam_mm;
  const double pitch_y = panels.panel_height_mm + panels.seam_mm;
  const double from_top = panels.height_mm() - p.y;
  const auto cell = [](double mm, double pitch) { return static_cast<int>(std::floor(mm / pitch)); };
  // Empty cells count with the slits around them.
  for (int row = cell(from_top - radius - panels.seam_mm, pitch_y);
       row <= cell(from_top + radius, pitch_y) + 1; ++row)
    for (int column = cell(p.x - radius - panels.seam_mm, pitch_x); column <= cell(p.x + radius, pitch_x) + 1;
         ++column) {
      if (column < 0 || row < 0 || column >= panels.columns || row >= panels.rows) continue;
      if (panels.panelAt(column, row)) continue;
      const double left = panels.left_mm(column) - panels.seam_mm;
      const double top = row * pitch_y - panels.seam_mm;
      const double dx =
          std::max({left - p.x, p.x - (left + panels.panel_width_mm + 2 * panels.seam_mm), 0.0});
      const double dy =
          std::max({top - from_top, from_top - (top + panels.panel_height_mm + 2 * panels.seam_mm), 0.0});
      if (std::hypot(dx, dy) < radius) return {Bar::emptyCell, -1};
    }
  return {};
}

Barred Sites::barsOfBoard(double radius, glm::dvec2 p) const {
  const Barred barred = pastBoard(radius, p);
  if (barred.by != Bar::none) return barred;
  const scene::PanelGrid& panels = scene_.panels;
  const double pitch_x = panels.panel_width_mm + panels.seam_mm;
  const double pitch_y = panels.panel_height_mm + panels.seam_mm;
  const double from_top = panels.height_mm() - p.y;
  const auto cell = [](double mm, double pitch) { return static_cast<int>(std::floor(mm / pitch)); };
  // Over a slit more than half as wide as the plate, most of the plate has nothing to stick to.
  if (panels.seam_mm > radius) {
    const double x = p.x - cell(p.x + panels.seam_mm, pitch_x) * pitch_x;
    const double y = from_top - cell(from_top + panels.seam_mm, pitch_y) * pitch_y;
    if (x < radius / 2 || y < radius / 2) return {Bar::slit, -1};
  }
  return {};
}

Barred Sites::barsPlate(const scene::FillerKind& kind, glm::dvec2 p) const {
  const double radius = kind.plate_mm / 2;
  Barred barred = barsOfBoard(radius, p);
  if (barred.by != Bar::none) return barred;
  anyNear(p, [&](const Obstacle& other) {
    const glm::dvec2 apart = other.at - p;
    const double need = radius + other.plate_radius + clearance_mm;
    if (glm::dot(apart, apart) >= need * need) return false;
    barred = {Bar::plate, other.bloom};
    return true;
  });
  return barred;
}

bool Sites::plateFitsNowhere(const scene::FillerKind& kind, glm::dvec2 p, double within) const {
  const double radius = kind.plate_mm / 2 - within;
  if (pastBoard(radius, p).by != Bar::none) return true;
  return anyNear(p, [&](const Obstacle& other) {
    const double need = radius + other.plate_radius;
    const glm::dvec2 apart = other.at - p;
    return need > 0 && glm::dot(apart, apart) < need * need;
  });
}

Barred Sites::bars(std::size_t number, const Site& site, double turn_deg,
                   std::vector<FaceHidden>* takes) const {
  const scene::FillerKind& kind = maker_.kinds()[number];
  const Barred barred = barsPlate(kind, site.board_mm);
  if (barred.by != Bar::none) return barred;
  const scene::FillerMaker::Hung hung = maker_.hang(number, site.from_corner_mm, turn_deg);
  const Silhouette seen = silhouetteHeadOn(*hung.mesh, hung.wallFromMesh);
  const double side = kind.diameter_mm * hang_at_side;
  if (seen.min_mm.x < -side || seen.max_mm.x > scene_.panels.width_mm() + side ||
      seen.max_mm.y > scene_.panels.height_mm() + side || seen.min_mm.y < -kind.diameter_mm * hang_at_bottom)
    return {Bar::hang, -1};
  const auto larger = [&](std::int32_t bloom) {
    return scene_.blooms[static_cast<std::size_t>(bloom)].diameter_mm > kind.diameter_mm + clearance_mm;
  };
  const bool any_near = anyNear(site.board_mm, [&](const Obstacle& other) {
    return larger(other.bloom) &&
           glm::length(other.at - site.board_mm) < (kind.diameter_mm + other.diameter) * reach_share;
  });
  if (!any_near) return {};
  HeadOnLook look =
      lookHeadOn(view_, grid_, *hung.mesh, hung.wallFromMesh, seen, scene_, kind.diameter_mm + clearance_mm);
  if (look.reaches_into >= 0) return {Bar::innerHalf, look.reaches_into};
  for (const FaceHidden& face : look.faces) {
    if (!larger(face.bloom)) continue;
    if (face.places > faceLimit(face.bloom)) return {Bar::face, face.bloom};
    if (takes != nullptr) takes->push_back(face);
  }
  return {};
}

bool Sites::inLargerInnerHalf(glm::dvec2 place, double height_mm, double diameter_mm) const {
  const int column = grid_.x.firstFrom(place.x);
  const int row = grid_.y.firstFrom(place.y);
  if (column >= grid_.x.count() || row >= grid_.y.count()) return false;
  const std::uint32_t k = grid_.place(column, row);
  const std::int32_t inner = view_.inner[k];
  return inner >= 0 && static_cast<double>(view_.height_mm[k]) < height_mm &&
         scene_.blooms[static_cast<std::size_t>(inner)].diameter_mm > diameter_mm + clearance_mm;
}

double Sites::faceLimit(std::int32_t number) const {
  const auto bloom = static_cast<std::size_t>(number);
  const double share = scene_.blooms[bloom].diameter_mm > large_mm ? share_of_large : share_of_other;
  return std::max(0.0, share * share_margin * static_cast<double>(view_.face[bloom]) - taken_[bloom]);
}

InnerHalf Sites::innerHalfOf(const scene::FillerKind& kind, glm::dvec2 board_mm, double turn_deg) const {
  const double a = radians(turn_deg);
  return {board_mm, {std::sin(a), std::cos(a)}, kind.diameter_mm / 4, kind.width_mm / 4};
}

}  // namespace petalproof::candidates
