#include "engine/plan/plan.h"

#include <algorithm>

namespace petalproof::plan {
namespace {

template <class T>
const T* findByName(const std::vector<T>& things, const std::string& name) {
  const auto found =
      std::find_if(things.begin(), things.end(), [&](const T& thing) { return thing.name == name; });
  return found == things.end() ? nullptr : &*found;
}

}  // namespace

const Bloom* findBloom(const Plan& plan, const std::string& name) { return findByName(plan.blooms, name); }

const Layout* findLayout(const Plan& plan, const std::string& name) { return findByName(plan.layouts, name); }

std::string columnLetters(int column) {
  std::string letters;
  for (int left = column + 1; left > 0; left = (left - 1) / 26)
    letters.insert(letters.begin(), static_cast<char>('A' + (left - 1) % 26));
  return letters;
}

std::string cellName(int column, int row) { return columnLetters(column) + std::to_string(row + 1); }

Size wallOutline(const Wall& wall) {
  const auto along = [&](int count, Length panel) {
    return Length{count * panel.value + (count - 1) * wall.seam.value};
  };
  return {along(wall.columns, wall.panel.width), along(wall.rows, wall.panel.height)};
}

}  // namespace petalproof::plan
