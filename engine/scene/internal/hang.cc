#include "engine/scene/internal/hang.h"

#include "engine/base/hash.h"
#include "engine/base/units.h"
#include "engine/scene/internal/copies.h"

#include <map>
#include <unordered_map>
#include <utility>

namespace petalproof::scene {
namespace {

std::uint64_t bitsOf(int number) { return static_cast<std::uint64_t>(number); }

PanelGrid panelGridOf(const plan::Plan& plan) {
  const plan::Wall& wall = plan.wall;
  PanelGrid panels;
  panels.columns = wall.columns;
  panels.rows = wall.rows;
  panels.panel_width_mm = toMillimetres(wall.panel.width, plan);
  panels.panel_height_mm = toMillimetres(wall.panel.height, plan);
  panels.seam_mm = toMillimetres(wall.seam, plan);
  panels.thickness_mm = toMillimetres(wall.board.thickness, plan);
  panels.above_floor_mm = toMillimetres(wall.above_floor, plan);
  panels.ground_covered = wall.board.ground == plan::Ground::covered;
  panels.has_panel = Grid<std::uint8_t>(wall.columns, wall.rows, 0);
  for (int row = 0; row < wall.rows; ++row)
    for (int column = 0; column < wall.columns; ++column)
      panels.has_panel.at(column, row) = wall.grid.at(column, row).hasPanel() ? 1 : 0;
  return panels;
}

SceneColours coloursOf(const plan::Wall& wall) {
  static constexpr Colour usual_room{143, 138, 132};
  return {wall.board.colour, wall.board.edge.value_or(wall.board.colour), wall.behind,
          wall.room.colour.value_or(usual_room)};
}

// Hangs the blooms one after the other; each depends only on the plan and its own hash, never on other
// blooms.
class BloomHanger {
 public:
  BloomHanger(const plan::Plan& plan, const std::vector<Kind>& kinds, const MeshSource& meshes, Scene& scene)
      : plan_(plan), kinds_(kinds), source_(meshes), index_(kindIndexOf(plan)), scene_(scene) {}

  void hangPanels() {
    std::unordered_map<std::string, const plan::Layout*> layouts;
    for (const plan::Layout& layout : plan_.layouts) layouts.emplace(layout.name, &layout);
    for (int row = 0; row < plan_.wall.rows; ++row)
      for (int column = 0; column < plan_.wall.columns; ++column) {
        const auto layout = layouts.find(plan_.wall.grid.at(column, row).layout);
        if (layout != layouts.end()) hangPanel(*layout->second, column, row);
      }
  }

  void hangFillers() {
    for (std::size_t k = 0; k < plan_.fillers.size(); ++k) {
      const plan::Placement& placement = plan_.fillers[k].placement;
      const auto kind = index_.find(placement.bloom);
      if (kind == index_.end()) continue;
      const glm::dvec2 from_corner = tapeMillimetres(placement.at);
      const std::uint64_t hash = fillerHash(plan_.seed, from_corner);
      const auto& colours = plan_.blooms[static_cast<std::size_t>(kind->second)].colours;
      BloomInstance bloom = instanceOf(placement, kind->second, hash, placement.turn_deg,
                                       {from_corner.x, scene_.panels.height_mm() - from_corner.y});
      bloom.colour = placement.colour.value_or(colours[mixed(hash) % colours.size()]);
      bloom.index = static_cast<int>(k);
      scene_.blooms.push_back(bloom);
    }
  }

 private:
  void hangPanel(const plan::Layout& layout, int column, int row) {
    const bool upside_down = plan_.wall.grid.at(column, row).upside_down;
    const std::uint64_t cell_hash = hashOf({bitsOf(column), bitsOf(row)});
    std::map<int, std::uint64_t> copies_so_far;
    for (std::size_t k = 0; k < layout.blooms.size(); ++k) {
      const plan::Placement& placement = layout.blooms[k];
      const auto kind = index_.find(placement.bloom);
      if (kind == index_.end()) continue;
      const std::uint64_t hash =
          hashOf({plan_.seed, bitsOf(column), bitsOf(row), static_cast<std::uint64_t>(k)});
      const double turn_deg = placement.turn_deg + (upside_down ? 180.0 : 0.0);
      BloomInstance bloom = instanceOf(placement, kind->second, hash, turn_deg,
                                       onPanel(tapeMillimetres(placement.at), column, row, upside_down));
      const auto& colours = plan_.blooms[static_cast<std::size_t>(kind->second)].colours;
      const std::uint64_t copy = copies_so_far[kind->second]++;
      bloom.colour = placement.colour.value_or(colours[(copy + cell_hash % colours.size()) % colours.size()]);
      bloom.panel_column = column;
      bloom.panel_row = row;
      bloom.index = static_cast<int>(k);
      scene_.blooms.push_back(bloom);
    }
  }

  glm::dvec2 tapeMillimetres(const plan::TapePoint& at) const {
    return {toMillimetres(at.from_left, plan_), toMillimetres(at.from_top, plan_)};
  }

  glm::dvec2 onPanel(glm::dvec2 from_corner, int column, int row, bool upside_down) const {
    const PanelGrid& panels = scene_.panels;
    if (upside_down) from_corner = glm::dvec2{panels.panel_width_mm, panels.panel_height_mm} - from_corner;
    return {panels.left_mm(column) + from_corner.x, panels.top_mm(row) - from_corner.y};
  }

  BloomInstance instanceOf(const plan::Placement& placement, int kind, std::uint64_t hash, double turn_deg,
                           const glm::dvec2& at_mm) {
    const Kind& made = kinds_[static_cast<std::size_t>(kind)];
    BloomInstance bloom;
    bloom.mesh = meshOf(kind, hash);
    bloom.kind = kind;
    bloom.at_mm = at_mm;
    bloom.raised_mm = toMillimetres(placement.raised, plan_);
    bloom.diameter_mm = made.diameter_mm;
    bloom.plate_mm = made.plate_mm;
    bloom.wallFromMesh = wallFromMesh(at_mm, bloom.raised_mm, turn_deg + swayOf(plan_.variation, hash));
    return bloom;
  }

  // The mesh of the copy with this hash, made when first asked for.
  std::uint32_t meshOf(int kind, std::uint64_t hash) {
    const Kind& made = kinds_[static_cast<std::size_t>(kind)];
    const std::uint64_t variant = variantOf(made, plan_.variation, hash);
    const auto [known, fresh] = meshes_.try_emplace({kind, variant}, 0);
    if (fresh) {
      known->second = static_cast<std::uint32_t>(scene_.meshes.size());
      scene_.meshes.push_back(source_(kind, variant));
    }
    return known->second;
  }

  const plan::Plan& plan_;
  const std::vector<Kind>& kinds_;
  const MeshSource& source_;
  KindIndex index_;
  Scene& scene_;
  std::map<std::pair<int, std::uint64_t>, std::uint32_t> meshes_;
};

}  // namespace

Scene hungScene(const plan::Plan& plan, const std::vector<Kind>& kinds, const MeshSource& meshes) {
  Scene scene;
  scene.panels = panelGridOf(plan);
  scene.colours = coloursOf(plan.wall);
  BloomHanger hanger(plan, kinds, meshes, scene);
  hanger.hangPanels();
  hanger.hangFillers();
  return scene;
}

}  // namespace petalproof::scene
