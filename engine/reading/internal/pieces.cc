#include "engine/reading/internal/pieces.h"

#include <algorithm>

namespace petalproof::reading {
namespace {

std::vector<gaps::Run> runsOfRow(const picture::WorkingPicture& picture, int y) {
  std::vector<gaps::Run> runs;
  const std::uint32_t* const row = picture.paper.data() + picture.offset(0, y);
  for (int x = 0; x < picture.size.width_px;) {
    const int begin = x;
    while (x < picture.size.width_px && row[x] == row[begin]) ++x;
    if (row[begin] != 0) runs.push_back({y, begin, x, row[begin]});
  }
  return runs;
}

}  // namespace

std::vector<gaps::Component> piecesOf(const picture::WorkingPicture& picture, const Pool& pool) {
  std::vector<std::vector<gaps::Run>> rows(static_cast<std::size_t>(picture.size.height_px));
  pool.forEach(rows.size(), [&](std::size_t y) { rows[y] = runsOfRow(picture, static_cast<int>(y)); });
  std::vector<gaps::Run> runs;
  for (const std::vector<gaps::Run>& row : rows) runs.insert(runs.end(), row.begin(), row.end());
  std::vector<gaps::Component> pieces = gaps::connectedComponents(runs);
  std::erase_if(pieces, [](const gaps::Component& piece) { return piece.pixels < least_piece_px; });
  return pieces;
}

}  // namespace petalproof::reading
