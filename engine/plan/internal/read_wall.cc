#include "engine/plan/internal/read_wall.h"

#include "engine/base/file.h"
#include "engine/plan/internal/grid_from_csv.h"
#include "engine/plan/internal/read_layout.h"
#include "engine/plan/plan_defaults.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace petalproof::plan {
namespace {

Board readBoard(TableReader& wall, Board board) {
  auto table = wall.field("board").table(
      "the board", "a table such as { thickness = 0.1875, colour = \"#f5f3ee\", ground = \"bare\" }");
  if (!table) return board;
  assign(board.thickness, table->field("thickness").length(LengthRange::positive));
  assign(board.colour, table->colourField().colour());
  assign(board.edge, table->field("edge").colour());
  if (const auto ground = table->field("ground").choice("ground", {"bare", "covered"}))
    board.ground = *ground == 0 ? Ground::bare : Ground::covered;
  table->finish();
  return board;
}

Room readRoom(TableReader& wall, PlanPlaces& places) {
  Room room;
  auto table = wall.field("room").table(
      "the room", "a table such as { colour = \"#8f8a84\", ceiling = 108, depth = 240 }");
  if (!table) return room;
  assign(room.colour, table->colourField().colour());
  const Field ceiling = table->field("ceiling");
  const Field depth = table->field("depth");
  assign(room.ceiling, ceiling.length(LengthRange::positive));
  assign(room.depth, depth.length(LengthRange::positive));
  if (ceiling.given()) places.room_ceiling = ceiling.place();
  if (depth.given()) places.room_depth = depth.place();
  table->finish();
  return room;
}

std::optional<int> readCount(const Field& field, std::string_view noun, int limit) {
  const auto count = field.longWhole({1, std::numeric_limits<long long>::max()});
  if (count && *count <= limit) return static_cast<int>(*count);
  if (count) field.wrong(fmt::format("the wall has {} {}, more than the limit of {}", *count, noun, limit));
  return std::nullopt;
}

CellText cellText(const Field& cell) {
  if (cell.isText()) return {*cell.text(), cell.place()};
  cell.wrong(
      fmt::format("a cell must be a layout's name in quotes, or \"\" for no panel, not {}", cell.inWords()));
  return {"", cell.place()};
}

// The grid's text cells from lists in TOML; nothing if the value isn't a list of rows.
std::optional<GridText> gridFromRows(const Field& field) {
  const auto rows =
      field.list("a list of rows such as [ [\"sun\", \"\"], [\"sun\", \"sun\"] ], or the name of a CSV file");
  if (!rows) return std::nullopt;
  GridText grid{{}, field.place()};
  for (const Field& row : *rows) {
    if (!row.isList()) {
      row.wrong(
          fmt::format("a row of the grid must be a list such as [\"sun\", \"\"], not {}", row.inWords()));
      return std::nullopt;
    }
    RowText texts{{}, row.place()};
    const auto cells = row.list("a list of cells");
    for (const Field& cell : *cells) texts.cells.push_back(cellText(cell));
    grid.rows.push_back(std::move(texts));
  }
  return grid;
}

// The wall's columns and rows, as far as they could be read.
struct GridSize {
  std::optional<int> columns;
  std::optional<int> rows;
};

std::optional<GridText> gridFromFile(const Field& field, const GridSource& source, GridSize size,
                                     Findings& findings) {
  const auto name = field.path();
  if (!name) return std::nullopt;
  const std::filesystem::path path(*name);
  const std::string shown = (std::filesystem::path(findings.file()).parent_path() / path).string();
  auto bytes = readFile(source.directory / path, source.limits.plan_bytes, shown);
  if (!bytes) {
    field.wrong(fmt::format("the grid {} {}", inQuotes(*name), bytes.problems.front().message));
    return std::nullopt;
  }
  auto grid = gridFromCsv(std::move(*bytes.value), shown, size.columns, size.rows);
  for (const Problem& problem : grid.problems) findings.problem(problem.place, problem.message);
  for (const Problem& warning : grid.warnings) findings.warning(warning.place, warning.message);
  return std::move(grid.value);
}

std::vector<std::string> cellChoices(const Names& layouts) {
  std::vector<std::string> choices = layouts.inOrder();
  for (const std::string& name : layouts.inOrder()) choices.push_back(name + std::string(upside_down_suffix));
  return choices;
}

std::string_view withoutSpaces(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

Cell cellFrom(std::string_view text) {
  text = withoutSpaces(text);
  Cell cell;
  cell.upside_down = text.ends_with(upside_down_suffix);
  if (cell.upside_down) text.remove_suffix(upside_down_suffix.size());
  cell.layout = withoutSpaces(text);
  return cell;
}

class GridChecker {
 public:
  GridChecker(Findings& findings, const Names& layouts)
      : findings_(&findings), layouts_(&layouts), choices_(cellChoices(layouts)) {}

  void checkSize(const GridText& grid, GridSize size) const {
    const int rows = static_cast<int>(grid.rows.size());
    if (size.rows && rows != *size.rows)
      findings_->problem(grid.place,
                         fmt::format("the grid has {}, the wall has {}", counted(rows, "row"), *size.rows));
    if (!size.columns) return;
    for (int row = 0; row < rows; ++row)
      checkRow(grid.rows[static_cast<std::size_t>(row)], row, *size.columns);
  }

  // Whether the rows are those of another file altogether: not of the wall's size, and no cell has a layout's
  // name. Such a file isn't for messages to print.
  bool isNoGrid(const GridText& grid, GridSize size) const {
    bool filled = false;
    bool fits = !size.rows || grid.rows.size() == static_cast<std::size_t>(*size.rows);
    for (const RowText& row : grid.rows) {
      fits = fits && (!size.columns || row.cells.size() == static_cast<std::size_t>(*size.columns));
      for (const CellText& text : row.cells) {
        const Cell cell = cellFrom(text.text);
        if (cell.hasPanel() && layouts_->mayHave(cell.layout)) return false;
        filled = filled || cell.hasPanel();
      }
    }
    return filled && !fits;
  }

  Cell cell(const CellText& text, int column, int row) {
    Cell cell = cellFrom(text.text);
    if (!cell.hasPanel() || layouts_->mayHave(cell.layout)) return cell;
    const std::string whole(withoutSpaces(text.text));
    findings_->problem(text.place, fmt::format("unknown layout {} in cell {}{}", inQuotes(whole),
                                               cellName(column, row), tail(whole)));
    return cell;
  }

 private:
  std::string tail(const std::string& whole) const {
    const std::string near = findings_->suggestion(whole, choices_);
    return near.empty() ? findings_->unknownTail(whole, layouts_->inOrder()) : near;
  }

  static std::string counted(int count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
  }

  void checkRow(const RowText& row, int number, int columns) const {
    const int count = static_cast<int>(row.cells.size());
    if (count != columns)
      findings_->problem(row.place, fmt::format("row {} of the grid has {}, the wall has {}", number + 1,
                                                counted(count, "cell"), counted(columns, "column")));
  }

  Findings* findings_;
  const Names* layouts_;
  std::vector<std::string> choices_;
};

Grid<Cell> readGrid(TableReader& wall, const GridSource& source, GridSize size) {
  const Field field =
      wall.needed("grid", "which layout hangs in which cell, such as grid = [ [\"sun\", \"sun\"] ]");
  if (!field.given()) return {};
  Findings& findings = wall.findings();
  const auto text =
      field.isText() ? gridFromFile(field, source, size, findings) : std::optional(gridFromRows(field));
  if (!text) return {};
  GridChecker checker(findings, source.layouts);
  if (field.isText() && checker.isNoGrid(*text, size)) {
    field.wrong(
        fmt::format("the grid {} is no grid of this wall: its rows and columns are others, and no cell has a "
                    "layout's name; cells are parted by commas, semicolons or tabs",
                    inQuotes(*field.text())));
    return {};
  }
  checker.checkSize(*text, size);
  const bool whole = size.columns && size.rows;
  Grid<Cell> grid = whole ? Grid<Cell>(*size.columns, *size.rows) : Grid<Cell>();
  for (int row = 0; row < static_cast<int>(text->rows.size()); ++row) {
    const auto& cells = text->rows[static_cast<std::size_t>(row)].cells;
    for (int column = 0; column < static_cast<int>(cells.size()); ++column) {
      Cell cell = checker.cell(cells[static_cast<std::size_t>(column)], column, row);
      if (column < grid.columns() && row < grid.rows()) grid.at(column, row) = std::move(cell);
    }
  }
  return grid;
}

Size readPanel(const Field& field) {
  Size size;
  const auto both = field.listOf(2, "two lengths, width and height of a panel");
  if (!both) return size;
  assign(size.width, (*both)[0].length(LengthRange::positive));
  assign(size.height, (*both)[1].length(LengthRange::positive));
  return size;
}

void checkSeam(const Field& seam, const Wall& wall) {
  const bool panel_known = wall.panel.width.value > 0 && wall.panel.height.value > 0;
  if (seam.given() && panel_known && wall.seam >= std::min(wall.panel.width, wall.panel.height))
    seam.wrong("\"seam\" is the open width between two panels; it can't be as wide as a panel");
}

void checkOutline(TableReader& table, const Wall& wall, Units units) {
  const Size outline = wallOutline(wall);
  if (toMillimetres(std::max(outline.width, outline.height), units) > longest_mm)
    table.findings().problem(table.place(), "the whole wall would be more than 1 km long");
}

}  // namespace

Wall readWall(TableReader table, Units units, const GridSource& source, PlanPlaces& places) {
  places.wall = table.place();
  places.room_ceiling = places.room_depth = places.wall;
  Wall wall = defaultWall(units);
  const GridSize size{readCount(table.needed("columns", "how many panels it is wide, such as columns = 4"),
                                "columns", source.limits.columns),
                      readCount(table.needed("rows", "how many panels it is high, such as rows = 4"), "rows",
                                source.limits.rows)};
  wall.columns = size.columns.value_or(0);
  wall.rows = size.rows.value_or(0);
  wall.panel = readPanel(table.needed("panel", "a panel's width and height, such as panel = [24, 20]"));
  const Field seam = table.field("seam");
  assign(wall.seam, seam.length(LengthRange::zeroOrMore));
  checkSeam(seam, wall);
  assign(wall.above_floor, table.field("above_floor").length(LengthRange::zeroOrMore));
  wall.board = readBoard(table, wall.board);
  assign(wall.behind, table.field("behind").colour());
  wall.room = readRoom(table, places);
  if (const auto mounting = table.field("mounting").choice("mounting", {"frame", "solid wall"}))
    wall.mounting = *mounting == 0 ? Mounting::frame : Mounting::solidWall;
  wall.grid = readGrid(table, source, size);
  if (const auto file = table.field("grid"); file.isText())
    places.grid_file = source.directory / *file.text();
  checkOutline(table, wall, units);
  table.finish();
  return wall;
}

}  // namespace petalproof::plan
