#include "engine/tables/write_tables.h"

#include "engine/base/length_text.h"
#include "engine/plan/findings.h"
#include "engine/plan/shape_names.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <functional>
#include <map>
#include <numeric>
#include <vector>

namespace petalproof::tables {
namespace {

using TextRow = std::vector<std::string>;

// A text that a spreadsheet would take for a formula gets a space before it.
std::string cellText(std::string text) {
  if (text.size() > 1 && std::string_view("=+-@").find(text.front()) != std::string_view::npos)
    text.insert(text.begin(), ' ');
  if (text.find_first_of(",;\t\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

// Spreadsheets cut at the separator of their locale unless the first line names one; they take the file for
// UTF-8 only with a mark, which plain ASCII doesn't need.
std::string csvText(const std::vector<TextRow>& rows) {
  std::string text = "sep=,\r\n";
  for (const TextRow& row : rows) {
    std::string line;
    for (const std::string& cell : row)
      line += fmt::format("{}{}", &cell == &row.front() ? "" : ",", cellText(cell));
    text += line + "\r\n";
  }
  const bool ascii =
      std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
  return ascii ? text : fmt::format("\xEF\xBB\xBF{}", text);
}

std::string plainNumber(double value) {
  char buffer[400];  // the longest double in fixed notation has about 330 characters
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed).ptr;
  return {buffer, end};
}

// "12", "1.5 sheets": a bare decimal means something else in another locale.
std::string amountText(double amount, std::string_view unit) {
  if (amount == std::floor(amount)) return plainNumber(amount);
  return fmt::format("{} {}", plainNumber(amount), unit);
}

// The length with its unit, so that every spreadsheet takes it for a text; reading it gives the same length.
std::string lengthText(Length length, Units units) {
  constexpr double longest_in_fractions = 1e6;  // keeps the count of 64ths a whole number
  const double in_64ths = length.value * 64;
  if (units != Units::inch || in_64ths != std::floor(in_64ths) || length.value >= longest_in_fractions)
    return fmt::format("{} {}", plainNumber(length.value), unitName(units));
  const auto count = static_cast<long long>(in_64ths);
  const long long common = std::gcd(count % 64, 64LL);
  const std::string part = count % 64 == 0 ? "" : fmt::format("{}/{}", count % 64 / common, 64 / common);
  const std::string whole = count >= 64 || part.empty() ? std::to_string(count / 64) : "";
  return fmt::format("{}{}{} in", whole, whole.empty() || part.empty() ? "" : " ", part);
}

std::string lengthText(std::optional<Length> length, Units units) {
  return length ? lengthText(*length, units) : std::string();
}

// A kind of bloom and its numbers.
struct Kind {
  const plan::Bloom* bloom = nullptr;
  long long on_wall = 0;
  long long fillers = 0;
  long long all() const { return on_wall + fillers; }
};

std::vector<Kind> kindsOf(const plan::Plan& plan) {
  std::map<std::string, long long> cells;
  for (const plan::Cell& cell : plan.wall.grid.cells())
    if (cell.hasPanel()) ++cells[cell.layout];
  std::map<std::string, Kind> counted;
  for (const plan::Layout& layout : plan.layouts)
    for (const plan::Placement& placement : layout.blooms)
      counted[placement.bloom].on_wall += cells[layout.name];
  for (const plan::Filler& filler : plan.fillers) ++counted[filler.placement.bloom].fillers;
  std::vector<Kind> kinds;
  for (const plan::Bloom& bloom : plan.blooms) {
    Kind kind = counted[bloom.name];
    kind.bloom = &bloom;
    kinds.push_back(kind);
  }
  return kinds;
}

std::string coloursText(const plan::Bloom& bloom) {
  TextRow texts;
  for (const Colour colour : bloom.colours) texts.push_back(toHex(colour));
  return joined(texts, ", ");
}

double sheetsOf(const plan::Bloom& bloom) {
  return std::accumulate(bloom.card.begin(), bloom.card.end(), 0.0,
                         [](double sum, const plan::Card& card) { return sum + card.sheets; });
}

std::string cardText(const plan::Bloom& bloom) {
  TextRow cards;
  for (const plan::Card& card : bloom.card)
    if (!card.name.empty()) cards.push_back(fmt::format("{} ({})", card.name, plainNumber(card.sheets)));
  return joined(cards, " + ");
}

std::string formText(const plan::Bloom& bloom) {
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  return shape ? std::string(plan::nameOf(*shape)) : std::string();
}

std::string meshText(const plan::Bloom& bloom) {
  const auto* mesh = std::get_if<plan::MeshFile>(&bloom.form);
  return mesh ? mesh->path : std::string();
}

// A sum without the rounding errors of its parts.
double rounded(double sum) {
  constexpr double digits = 1e6;  // finer than anybody counts sheets or minutes
  return std::round(sum * digits) / digits;
}

struct Column {
  std::string heading;
  bool always = false;  // written even if all its cells are empty
  std::function<std::string(const Kind&)> text;
  std::function<double(const Kind&)> summed;  // empty: no total below
  std::string unit;                           // of the sum
};

std::string countText(std::optional<int> count) { return count ? std::to_string(*count) : std::string(); }

std::vector<Column> sizeColumns(Units units) {
  return {
      {"Flower", true, [](const Kind& k) { return k.bloom->name; }, {}, {}},
      {"Label", false, [](const Kind& k) { return k.bloom->label; }, {}, {}},
      {"Shape", true, [](const Kind& k) { return formText(*k.bloom); }, {}, {}},
      {"Mesh", false, [](const Kind& k) { return meshText(*k.bloom); }, {}, {}},
      {"Size", true, [units](const Kind& k) { return lengthText(k.bloom->diameter, units); }, {}, {}},
      {"Width", false, [units](const Kind& k) { return lengthText(k.bloom->width, units); }, {}, {}},
      {"Depth", false, [units](const Kind& k) { return lengthText(k.bloom->depth, units); }, {}, {}},
      {"Plate", false, [units](const Kind& k) { return lengthText(k.bloom->plate, units); }, {}, {}},
      {"Petals", false, [](const Kind& k) { return countText(k.bloom->petals); }, {}, {}},
      {"Layers", false, [](const Kind& k) { return countText(k.bloom->layers); }, {}, {}},
      {"Colour", true, [](const Kind& k) { return coloursText(*k.bloom); }, {}, {}},
  };
}

// Adds a column with the amount for one bloom and a column with the amount for all.
void addAmount(std::vector<Column>& columns, const std::string& amount_name, const std::string& unit,
               double (*for_one)(const plan::Bloom&)) {
  columns.push_back({amount_name + " for one",
                     false,
                     [=](const Kind& k) {
                       const double amount = for_one(*k.bloom);
                       return amount == 0 ? "" : amountText(amount, unit);
                     },
                     {},
                     {}});
  const auto in_all = [=](const Kind& k) {
    return rounded(for_one(*k.bloom) * static_cast<double>(k.all()));
  };
  columns.push_back({amount_name + " in all", false,
                     [=](const Kind& k) { return in_all(k) == 0 ? "" : amountText(in_all(k), unit); }, in_all,
                     unit});
}

std::vector<Column> columnsFor(const plan::Plan& plan) {
  std::vector<Column> columns = sizeColumns(plan.units);
  const bool fillers = !plan.fillers.empty();
  const bool may_fill = std::any_of(plan.blooms.begin(), plan.blooms.end(),
                                    [](const plan::Bloom& b) { return b.filler || b.stock; });
  columns.push_back({"Qty",
                     true,
                     [](const Kind& k) { return std::to_string(k.on_wall); },
                     [](const Kind& k) { return static_cast<double>(k.on_wall); },
                     {}});
  if (fillers)
    columns.push_back({"Placed as fillers",
                       true,
                       [](const Kind& k) { return std::to_string(k.fillers); },
                       [](const Kind& k) { return static_cast<double>(k.fillers); },
                       {}});
  if (may_fill) {
    columns.push_back({"Filler", true, [](const Kind& k) { return k.bloom->filler ? "yes" : "no"; }, {}, {}});
    columns.push_back({"Stock", true, [](const Kind& k) { return countText(k.bloom->stock); }, {}, {}});
  }
  columns.push_back({"Card", false, [](const Kind& k) { return cardText(*k.bloom); }, {}, {}});
  addAmount(columns, "Sheets", "sheets", sheetsOf);
  addAmount(columns, "Strips", "strips", [](const plan::Bloom& b) { return b.strips; });
  addAmount(columns, "Minutes", "minutes", [](const plan::Bloom& b) { return b.minutes; });
  return columns;
}

bool saysSomething(const Column& column, const std::vector<Kind>& kinds) {
  return column.always || std::any_of(kinds.begin(), kinds.end(),
                                      [&](const Kind& kind) { return !column.text(kind).empty(); });
}

std::string totalText(const Column& column, const std::vector<Kind>& kinds) {
  if (!column.summed) return {};
  double sum = 0;
  for (const Kind& kind : kinds) sum += column.summed(kind);
  return amountText(rounded(sum), column.unit);
}

std::string gridCellText(const plan::Cell& cell) {
  return cell.hasPanel() && cell.upside_down ? cell.layout + " upside down" : cell.layout;
}

// Whether the first layout's name looks like a row or column number.
bool looksNumbered(const Grid<plan::Cell>& grid) {
  const auto numbers = [](const std::string& name, int k) {
    const std::string lower = lowerCase(name);
    return lower == lowerCase(plan::columnLetters(k)) || lower == std::to_string(k + 1);
  };
  return numbers(grid.at(0, 0).layout, 0);
}

}  // namespace

std::string gridTable(const plan::Plan& plan) {
  const Grid<plan::Cell>& grid = plan.wall.grid;
  const bool numbered = looksNumbered(grid);
  std::vector<TextRow> rows;
  if (numbered) rows.push_back({"Row"});
  for (int column = 0; numbered && column < grid.columns(); ++column)
    rows.front().push_back(plan::columnLetters(column));
  for (int row = 0; row < grid.rows(); ++row) {
    TextRow cells;
    if (numbered) cells.push_back(std::to_string(row + 1));
    int panels = 0;
    for (int column = 0; column < grid.columns(); ++column) panels += grid.at(column, row).hasPanel() ? 1 : 0;
    for (int column = 0; column < grid.columns(); ++column) {
      const bool edge = column == 0 || column + 1 == grid.columns();
      const std::string text = gridCellText(grid.at(column, row));
      // "-" keeps readers from taking an empty row or column for the table's margin.
      cells.push_back(text.empty() && (panels < 2 || (edge && row == 0)) ? "-" : text);
    }
    rows.push_back(std::move(cells));
  }
  return csvText(rows);
}

std::string bloomTable(const plan::Plan& plan) {
  const std::vector<Kind> kinds = kindsOf(plan);
  std::vector<Column> columns;
  for (Column& column : columnsFor(plan))
    if (saysSomething(column, kinds)) columns.push_back(std::move(column));
  std::vector<TextRow> rows{{plan.title}, {}};
  for (const Column& column : columns) rows.back().push_back(column.heading);
  for (const Kind& kind : kinds) {
    TextRow row;
    for (const Column& column : columns) row.push_back(column.text(kind));
    rows.push_back(std::move(row));
  }
  TextRow totals;
  for (const Column& column : columns) totals.push_back(totalText(column, kinds));
  totals.front() = "Total";
  rows.push_back(std::move(totals));
  return csvText(rows);
}

}  // namespace petalproof::tables
