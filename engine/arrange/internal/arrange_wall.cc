#include "engine/arrange/internal/arrange_wall.h"

#include "engine/base/hash.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <unordered_map>

namespace petalproof::arrange {
namespace {

// Limits of the time for a wall, by trial.
constexpr int whole_wall_panels = 72;  // the most panels of a wall modelled whole
constexpr int sampled_panels = 48;     // about the number counted on larger walls
constexpr int most_samples_a_layout = 6;

struct CellAt {
  int column = 0;
  int row = 0;
};

class WallModeller {
 public:
  WallModeller(const plan::Wall& wall, Units units, const std::vector<std::string>& layouts, double cell_mm)
      : wall_(wall), number_of_layouts_(layouts.size()), layout_at_(wall.columns, wall.rows, -1) {
    model_.panel_width = static_cast<float>(toMillimetres(wall.panel.width, units));
    model_.panel_height = static_cast<float>(toMillimetres(wall.panel.height, units));
    model_.cell_mm = cell_mm;
    pitch_x_ = model_.panel_width + toMillimetres(wall.seam, units);
    pitch_y_ = model_.panel_height + toMillimetres(wall.seam, units);
    std::unordered_map<std::string, int> index;
    for (std::size_t k = 0; k < layouts.size(); ++k) index.emplace(layouts[k], static_cast<int>(k));
    cells_of_.resize(layouts.size());
    for (int row = 0; row < wall.rows; ++row)
      for (int column = 0; column < wall.columns; ++column) addCell(column, row, index);
  }

  WallModel model(std::uint64_t seed) {
    model_.sites.resize(number_of_layouts_);
    if (panels_ <= whole_wall_panels)
      takeWholeWall();
    else
      takeSample(seed);
    addBesides();
    return std::move(model_);
  }

 private:
  void addCell(int column, int row, const std::unordered_map<std::string, int>& index) {
    const plan::Cell& cell = wall_.grid.at(column, row);
    const auto known = index.find(cell.layout);
    if (!cell.hasPanel() || known == index.end()) return;
    layout_at_.at(column, row) = known->second;
    cells_of_[static_cast<std::size_t>(known->second)].push_back({column, row});
    ++panels_;
  }

  int layoutAt(int column, int row) const {
    const bool inside = column >= 0 && column < wall_.columns && row >= 0 && row < wall_.rows;
    return inside ? layout_at_.at(column, row) : -1;
  }

  int rasterCells(double mm) const { return static_cast<int>(std::ceil(mm / model_.cell_mm)); }

  // Marks the board of a panel whose upper left corner is at (left, top) mm of the raster.
  void countBoard(double left, double top) {
    const auto cell = [&](double mm) { return static_cast<int>(std::lround(mm / model_.cell_mm)); };
    for (int y = cell(top); y < std::min(cell(top + model_.panel_height), model_.board.rows()); ++y)
      for (int x = cell(left); x < std::min(cell(left + model_.panel_width), model_.board.columns()); ++x)
        model_.board.at(x, y) = 1;
  }

  void addSite(CellAt cell, double left, double top, CellSite site) {
    const int layout = layoutAt(cell.column, cell.row);
    site.layout = layout;
    site.upside_down = wall_.grid.at(cell.column, cell.row).upside_down;
    site.centre_x = static_cast<float>((left + model_.panel_width / 2) / model_.cell_mm);
    site.centre_y = static_cast<float>((top + model_.panel_height / 2) / model_.cell_mm);
    model_.sites[static_cast<std::size_t>(layout)].push_back(site);
  }

  void takeWholeWall() {
    model_.board =
        Grid<std::uint8_t>(rasterCells(wall_.columns * pitch_x_), rasterCells(wall_.rows * pitch_y_), 0);
    CellSite counted;
    counted.last_x = model_.board.columns();
    counted.last_y = model_.board.rows();
    for (int row = 0; row < wall_.rows; ++row)
      for (int column = 0; column < wall_.columns; ++column) {
        if (layoutAt(column, row) < 0) continue;
        countBoard(column * pitch_x_, row * pitch_y_);
        addSite({column, row}, column * pitch_x_, row * pitch_y_, counted);
      }
  }

  // The sampled panels stand one below the other on the raster, each with its eight neighbours for the blooms
  // that reach over its edges.
  void takeSample(std::uint64_t seed) {
    const std::vector<CellAt> sampled = sampledCells(seed);
    const int width = rasterCells(model_.panel_width);
    const int height = rasterCells(model_.panel_height);
    model_.board = Grid<std::uint8_t>(width, height * static_cast<int>(sampled.size()), 1);
    for (std::size_t k = 0; k < sampled.size(); ++k) {
      CellSite counted;
      counted.first_y = static_cast<int>(k) * height;
      counted.last_y = counted.first_y + height;
      counted.last_x = width;
      for (int i = -1; i <= 1; ++i)
        for (int j = -1; j <= 1; ++j) {
          const CellAt at{sampled[k].column + i, sampled[k].row + j};
          if (layoutAt(at.column, at.row) < 0) continue;
          addSite(at, i * pitch_x_, j * pitch_y_ + counted.first_y * model_.cell_mm, counted);
        }
    }
  }

  std::vector<CellAt> sampledCells(std::uint64_t seed) const {
    const int samples =
        std::clamp(sampled_panels / static_cast<int>(std::max<std::size_t>(1, number_of_layouts_)), 1,
                   most_samples_a_layout);
    std::vector<CellAt> sampled;
    for (std::size_t layout = 0; layout < number_of_layouts_; ++layout) {
      const auto& cells = cells_of_[layout];
      const auto number = std::min(cells.size(), static_cast<std::size_t>(samples));
      for (std::size_t k = 0; k < number; ++k) {
        const std::size_t low = cells.size() * k / number;
        const std::size_t high = cells.size() * (k + 1) / number;
        sampled.push_back(cells[low + mixed(hashOf({seed, layout, k})) % (high - low)]);
      }
    }
    return sampled;
  }

  void addBesides() {
    model_.besides.resize(number_of_layouts_);
    model_.outer.resize(number_of_layouts_, {0, 0, 0, 0});
    for (std::size_t layout = 0; layout < number_of_layouts_; ++layout) addBesidesOf(layout);
  }

  void addBesidesOf(std::size_t layout) {
    const auto& cells = cells_of_[layout];
    if (cells.empty()) return;
    const float weight = static_cast<float>(model_.sites[layout].size()) / static_cast<float>(cells.size());
    std::map<std::tuple<int, int, int, bool>, int> times;
    std::array<int, 4> outer{0, 0, 0, 0};
    for (const CellAt& cell : cells) {
      const bool turned = wall_.grid.at(cell.column, cell.row).upside_down;
      const int sign = turned ? -1 : 1;
      for (int j = -1; j <= 1; ++j)
        for (int i = -1; i <= 1; ++i) {
          if (i == 0 && j == 0) continue;
          const int neighbour = layoutAt(cell.column + i, cell.row + j);
          if (neighbour < 0) {
            if (i == 0 || j == 0) ++outer[sideOf(sign * i, sign * j)];
            continue;
          }
          const bool neighbour_turned = wall_.grid.at(cell.column + i, cell.row + j).upside_down;
          ++times[{sign * i, sign * j, neighbour, turned != neighbour_turned}];
        }
    }
    // A neighbour that occurs once must count, however large the wall.
    const auto counted = [&](int number) { return std::max(0.5F, static_cast<float>(number) * weight); };
    for (const auto& [key, number] : times) {
      const auto& [i, j, neighbour, turned] = key;
      model_.besides[layout].push_back({neighbour, turned, static_cast<float>(i * pitch_x_),
                                        static_cast<float>(j * pitch_y_), counted(number)});
    }
    for (std::size_t side = 0; side < 4; ++side)
      if (outer[side] > 0) model_.outer[layout][side] = counted(outer[side]);
  }

  static std::size_t sideOf(int i, int j) {
    const Side side = i < 0 ? Side::left : i > 0 ? Side::right : j < 0 ? Side::top : Side::bottom;
    return static_cast<std::size_t>(side);
  }

  const plan::Wall& wall_;
  std::size_t number_of_layouts_;
  Grid<int> layout_at_;
  std::vector<std::vector<CellAt>> cells_of_;
  int panels_ = 0;
  double pitch_x_ = 0;
  double pitch_y_ = 0;
  WallModel model_;
};

}  // namespace

WallModel wallModelOf(const plan::Wall& wall, Units units, const std::vector<std::string>& layouts,
                      double cell_mm, std::uint64_t seed) {
  return WallModeller(wall, units, layouts, cell_mm).model(seed);
}

}  // namespace petalproof::arrange
