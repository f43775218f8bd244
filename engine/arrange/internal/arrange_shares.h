#pragma once
// The arithmetic of dealing: whole numbers of blooms for groups of cells that look alike. dealBlooms calls
// this.

#include <vector>

namespace petalproof::arrange {

// Cells that have the same blooms.
struct CellGroup {
  int layout = 0;  // index of the request's layout that they belong to
  int cells = 0;
};

// A row of the maker's table: blooms of a kind to deal.
struct Wanted {
  int kind = 0;
  int on_wall = 0;
  int layout = -1;         // the only layout whose cells may take them; -1: all cells may
  double panel_share = 0;  // share of a panel that a bloom fills
  bool evenly = false;     // the cells' numbers differ by at most 1
};

// Divides groups until every row's number can be met exactly, as few times as it finds, and a few times more
// if some panels would be much fuller than others.
std::vector<CellGroup> dividedGroups(std::vector<CellGroup> groups, const std::vector<Wanted>& wanted);

// The number that each cell of each group gets (rows as `wanted`): sums are exact, panels about equally full.
// A row that no group may take has zeros. Precondition: groups from dividedGroups.
std::vector<std::vector<int>> sharesOf(const std::vector<CellGroup>& groups,
                                       const std::vector<Wanted>& wanted);

}  // namespace petalproof::arrange
