#pragma once
// The arithmetic of dealing: whole numbers of blooms for groups of cells that look alike.

#include <vector>

namespace petalproof::arrange {

// Cells that have the same blooms.
struct CellGroup {
  int layout = 0;  // which of the request's layouts they are of
  int cells = 0;
};

// One row of the maker's table.
struct Wanted {
  int kind = 0;
  int on_wall = 0;
  int layout = -1;         // only in cells of this layout; -1: in any
  double panel_share = 0;  // of a panel that one bloom fills
  bool evenly = false;     // no cell gets two more than another
};

// Divides groups until the numbers of every row can be met exactly, as few times as it finds, and a few times
// more where some panels would be much fuller than others.
std::vector<CellGroup> dividedGroups(std::vector<CellGroup> groups, const std::vector<Wanted>& wanted);

// How many each cell of each group gets (rows as `wanted`), sums exact, panels about equally full. A row
// no group may take has zeros. Precondition: groups from dividedGroups.
std::vector<std::vector<int>> sharesOf(const std::vector<CellGroup>& groups,
                                       const std::vector<Wanted>& wanted);

}  // namespace petalproof::arrange
