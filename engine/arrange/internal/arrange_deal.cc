#include "engine/arrange/internal/arrange_deal.h"

#include "engine/arrange/internal/arrange_shares.h"
#include "engine/base/hash.h"
#include "engine/base/units.h"
#include "engine/scene/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <limits>
#include <map>
#include <utility>

namespace petalproof::arrange {
namespace {

constexpr double large_share = 0.15;  // of a panel; blooms from this size are dealt evenly. By eye
constexpr std::size_t most_divisions =
    5;  // made for even numbers of large blooms; more are a burden to the maker

struct DealtCell {
  int column = 0;
  int row = 0;
};

// The request's layouts in the order of first use, and where each hangs.
struct Use {
  std::vector<std::string> names;
  std::vector<std::vector<DealtCell>> cells;
};

Use useOf(const Grid<plan::Cell>& grid) {
  Use use;
  std::map<std::string, std::size_t> index;
  for (int row = 0; row < grid.rows(); ++row)
    for (int column = 0; column < grid.columns(); ++column) {
      const plan::Cell& cell = grid.at(column, row);
      if (!cell.hasPanel()) continue;
      const auto [known, fresh] = index.try_emplace(cell.layout, use.names.size());
      if (fresh) {
        use.names.push_back(cell.layout);
        use.cells.emplace_back();
      }
      use.cells[known->second].push_back({column, row});
    }
  return use;
}

// About the share of a panel that a bloom fills: its disc, or half its rectangle for greenery.
double panelShare(const plan::Bloom& bloom, const plan::Size& panel) {
  const double across = bloom.diameter.value;
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  const double board = panel.width.value * panel.height.value;
  if (!shape || !scene::factsOf(*shape).has_width) return pi / 4 * across * across / board;
  const double width = bloom.width ? bloom.width->value : scene::factsOf(*shape).width_share * across;
  return 0.5 * across * width / board;
}

int indexOf(const std::vector<std::string>& names, const std::string& name) {
  return static_cast<int>(std::find(names.begin(), names.end(), name) - names.begin());
}

// A name for a part of a layout, "sun b", with the first free letter.
std::string dividedName(const std::string& name, const std::vector<std::string>& taken) {
  for (int number = 1;; ++number) {
    const std::string tried = number < 26 ? fmt::format("{} {}", name, static_cast<char>('a' + number))
                                          : fmt::format("{} {}", name, number + 1);
    if (std::find(taken.begin(), taken.end(), tried) == taken.end()) return tried;
  }
}

// `count` of the cells, far from each other; they are taken out of `cells`.
std::vector<DealtCell> takeSpread(std::vector<DealtCell>& cells, int count, std::uint64_t seed) {
  std::vector<DealtCell> taken;
  const auto start = static_cast<std::size_t>(mixed(seed) % cells.size());
  std::vector<int> apart(cells.size(), std::numeric_limits<int>::max());
  constexpr double most_steps = 2e7;  // of the search for distant cells: a fraction of a second
  const bool many = static_cast<double>(count) * static_cast<double>(cells.size()) > most_steps;
  std::size_t next = start;
  while (static_cast<int>(taken.size()) < count) {
    taken.push_back(cells[next]);
    apart[next] = -1;
    if (many) {  // evenly along the rows instead
      const auto k = static_cast<std::size_t>(taken.size());
      next = (start + k * cells.size() / static_cast<std::size_t>(count)) % cells.size();
      continue;
    }
    for (std::size_t k = 0; k < cells.size(); ++k) {
      const int dx = cells[k].column - taken.back().column;
      const int dy = cells[k].row - taken.back().row;
      if (apart[k] >= 0) apart[k] = std::min(apart[k], dx * dx + dy * dy);
    }
    next = static_cast<std::size_t>(std::max_element(apart.begin(), apart.end()) - apart.begin());
  }
  std::vector<DealtCell> left;
  for (std::size_t k = 0; k < cells.size(); ++k)
    if (apart[k] >= 0) left.push_back(cells[k]);
  cells = std::move(left);
  return taken;
}

// Names the groups and hangs them in cells. The largest group of a layout keeps the layout's name.
class Hanging {
 public:
  Hanging(const tables::ArrangeRequest& request, Use use, const std::vector<CellGroup>& groups)
      : request_(request), use_(std::move(use)), groups_(groups), grid_(request.wall.grid) {
    taken_names_ = use_.names;
    names_.resize(groups.size());
    cells_.resize(groups.size());
  }

  void hang() {
    for (std::size_t layout = 0; layout < use_.names.size(); ++layout) hangLayout(static_cast<int>(layout));
    const int cells = grid_.columns() * grid_.rows();
    for (int k = 0; k < most_passes && cells <= most_cells_swapped && swapNeighbours(); ++k) {
    }
  }

  const std::vector<std::string>& names() const { return names_; }
  const std::vector<DealtCell>& cellsOf(std::size_t group) const { return cells_[group]; }
  Grid<plan::Cell> grid() && { return std::move(grid_); }

 private:
  void hangLayout(int layout) {
    std::vector<std::size_t> parts;
    for (std::size_t g = 0; g < groups_.size(); ++g)
      if (groups_[g].layout == layout) parts.push_back(g);
    std::stable_sort(parts.begin(), parts.end(),
                     [&](std::size_t a, std::size_t b) { return groups_[a].cells > groups_[b].cells; });
    const auto of = static_cast<std::size_t>(layout);
    std::vector<DealtCell>& left = use_.cells[of];
    names_[parts[0]] = use_.names[of];
    for (std::size_t k = 1; k < parts.size(); ++k) {
      names_[parts[k]] = dividedName(use_.names[of], taken_names_);
      taken_names_.push_back(names_[parts[k]]);
    }
    for (std::size_t k = parts.size(); k-- > 1;) {
      const std::size_t g = parts[k];
      cells_[g] = takeSpread(left, groups_[g].cells, hashOf({request_.seed, of, k}));
      for (const DealtCell& cell : cells_[g]) grid_.at(cell.column, cell.row).layout = names_[g];
    }
    cells_[parts[0]] = left;
  }

  // Swaps cells between parts of a layout if that leaves fewer neighbours alike; returns whether any were
  // swapped.
  bool swapNeighbours() {
    bool swapped = false;
    for (std::size_t g = 0; g < groups_.size(); ++g)
      for (std::size_t h = g + 1; h < groups_.size(); ++h) {
        if (groups_[g].layout != groups_[h].layout) continue;
        for (DealtCell& a : cells_[g])
          for (DealtCell& b : cells_[h]) swapped = swappedForBetter(a, b) || swapped;
      }
    return swapped;
  }

  bool swappedForBetter(DealtCell& a, DealtCell& b) {
    std::string& name_a = grid_.at(a.column, a.row).layout;
    std::string& name_b = grid_.at(b.column, b.row).layout;
    const int before = likeAround(a) + likeAround(b);
    std::swap(name_a, name_b);
    if (likeAround(a) + likeAround(b) < before) {
      std::swap(a, b);
      return true;
    }
    std::swap(name_a, name_b);
    return false;
  }

  // How many panels beside, above and below a cell have its layout.
  int likeAround(const DealtCell& cell) const {
    const auto same = [&](int column, int row) {
      const bool inside = column >= 0 && row >= 0 && column < grid_.columns() && row < grid_.rows();
      return inside && grid_.at(column, row).layout == grid_.at(cell.column, cell.row).layout ? 1 : 0;
    };
    return same(cell.column - 1, cell.row) + same(cell.column + 1, cell.row) +
           same(cell.column, cell.row - 1) + same(cell.column, cell.row + 1);
  }

  static constexpr int most_passes = 4;           // further passes hardly find a swap
  static constexpr int most_cells_swapped = 400;  // larger walls would take long

  const tables::ArrangeRequest& request_;
  Use use_;
  const std::vector<CellGroup>& groups_;
  Grid<plan::Cell> grid_;
  std::vector<std::string> taken_names_;
  std::vector<std::string> names_;
  std::vector<std::vector<DealtCell>> cells_;
};

std::string panels(int count) { return fmt::format("{} panel{}", count, count == 1 ? "" : "s"); }

std::string listed(std::vector<DealtCell> cells) {
  std::sort(cells.begin(), cells.end(), [](const DealtCell& a, const DealtCell& b) {
    return a.row != b.row ? a.row < b.row : a.column < b.column;
  });
  constexpr std::size_t most = 8;
  std::string text;
  for (std::size_t k = 0; k < std::min(most, cells.size()); ++k)
    text += (k ? ", " : "") + plan::cellName(cells[k].column, cells[k].row);
  if (cells.size() > most) text += fmt::format(" and {} more", cells.size() - most);
  return text;
}

// The names in quotes; of many names, the first and the number of the others.
std::string quoted(const std::vector<std::string>& names) {
  constexpr std::size_t most = 6;
  std::string text;
  for (std::size_t k = 0; k < std::min(most, names.size()); ++k)
    text += fmt::format("{}\"{}\"", k ? ", " : "", names[k]);
  if (names.size() > most) text += fmt::format(" and {} more", names.size() - most);
  return text;
}

// `7 "ember" over 3 panels: 3 on 1 panel ("sun b"), 2 on 2 panels ("sun")`; empty if all panels have the same
// number.
std::string dealtWords(const std::string& bloom, const Wanted& row, const std::vector<CellGroup>& groups,
                       const std::vector<int>& shares, const std::vector<std::string>& names) {
  std::map<int, std::pair<int, std::vector<std::string>>, std::greater<>> by_share;
  int cells = 0;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    if (row.layout >= 0 && row.layout != groups[g].layout) continue;
    cells += groups[g].cells;
    auto& [count, layouts] = by_share[shares[g]];
    count += groups[g].cells;
    layouts.push_back(names[g]);
  }
  if (by_share.size() < 2) return {};
  std::string words = fmt::format("{} \"{}\" over {}:", row.on_wall, bloom, panels(cells));
  const char* comma = " ";
  for (const auto& [share, group] : by_share) {
    words += fmt::format("{}{} on {} ({})", comma, share == 0 ? "none" : fmt::format("{}", share),
                         panels(group.first), quoted(group.second));
    comma = ", ";
  }
  return words;
}

class Dealer {
 public:
  explicit Dealer(const tables::ArrangeRequest& request)
      : request_(request), use_(useOf(request.wall.grid)) {}

  Deal deal() {
    readCounts();
    std::vector<CellGroup> groups;
    for (std::size_t k = 0; k < use_.names.size(); ++k)
      groups.push_back({static_cast<int>(k), static_cast<int>(use_.cells[k].size())});
    groups = divided(groups);
    const auto shares = sharesOf(groups, wanted_);
    Hanging hanging(request_, use_, groups);
    hanging.hang();
    tell(groups, shares, hanging);
    fill(groups, shares, hanging.names());
    deal_.grid = std::move(hanging).grid();
    orderByUse();
    return std::move(deal_);
  }

 private:
  // Divides groups so that large blooms are dealt evenly: no maker hangs two on a panel and none on the next.
  // If that takes too many layouts, large blooms are dealt like the others.
  std::vector<CellGroup> divided(const std::vector<CellGroup>& groups) {
    for (Wanted& row : wanted_) row.evenly = row.panel_share >= large_share;
    std::vector<CellGroup> evenly = dividedGroups(groups, wanted_);
    if (evenly.size() <= groups.size() + most_divisions) return evenly;
    for (Wanted& row : wanted_) row.evenly = false;
    return dividedGroups(groups, wanted_);
  }

  void readCounts() {
    for (const tables::KindCount& count : request_.counts) {
      if (count.on_wall <= 0) continue;
      const auto bloom = std::find_if(request_.blooms.begin(), request_.blooms.end(),
                                      [&](const plan::Bloom& b) { return b.name == count.bloom; });
      if (bloom == request_.blooms.end()) continue;
      Wanted row;
      row.kind = static_cast<int>(bloom - request_.blooms.begin());
      row.on_wall = count.on_wall;
      row.panel_share = panelShare(*bloom, request_.wall.panel);
      if (!count.layout.empty()) row.layout = indexOf(use_.names, count.layout);
      if (row.layout == static_cast<int>(use_.names.size()))
        deal_.words.push_back(fmt::format("{} \"{}\" found no place: no panel has the layout \"{}\"",
                                          row.on_wall, count.bloom, count.layout));
      else
        wanted_.push_back(row);
    }
  }

  void tell(const std::vector<CellGroup>& groups, const std::vector<std::vector<int>>& shares,
            const Hanging& hanging) {
    for (std::size_t k = 0; k < wanted_.size(); ++k) {
      const std::string& bloom = request_.blooms[static_cast<std::size_t>(wanted_[k].kind)].name;
      std::string words = dealtWords(bloom, wanted_[k], groups, shares[k], hanging.names());
      if (!words.empty()) deal_.words.push_back(std::move(words));
    }
    for (std::size_t g = 0; g < groups.size(); ++g) {
      const std::string& of = use_.names[static_cast<std::size_t>(groups[g].layout)];
      if (hanging.names()[g] == of) continue;
      deal_.words.push_back(
          fmt::format("\"{}\" is a layout made so that the numbers come out; it hangs "
                      "instead of \"{}\" in {}",
                      hanging.names()[g], of, listed(hanging.cellsOf(g))));
    }
  }

  void fill(const std::vector<CellGroup>& groups, const std::vector<std::vector<int>>& shares,
            const std::vector<std::string>& names) {
    for (std::size_t g = 0; g < groups.size(); ++g) {
      DealtLayout layout;
      layout.name = names[g];
      for (std::size_t k = 0; k < wanted_.size(); ++k)
        for (int n = 0; n < shares[k][g]; ++n) layout.kinds.push_back(wanted_[k].kind);
      deal_.layouts.push_back(std::move(layout));
    }
  }

  void orderByUse() {
    const std::vector<std::string> order = useOf(deal_.grid).names;
    std::stable_sort(deal_.layouts.begin(), deal_.layouts.end(),
                     [&](const DealtLayout& a, const DealtLayout& b) {
                       return indexOf(order, a.name) < indexOf(order, b.name);
                     });
  }

  const tables::ArrangeRequest& request_;
  Use use_;
  std::vector<Wanted> wanted_;
  Deal deal_;
};

}  // namespace

Deal dealBlooms(const tables::ArrangeRequest& request) { return Dealer(request).deal(); }

}  // namespace petalproof::arrange
