#include "tests/tables/summary.h"

#include "engine/plan/shape_names.h"
#include "engine/tables/tables_text.h"

#include <fmt/format.h>

#include <fstream>
#include <sstream>
#include <stdexcept>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

std::string unitsText(Units units) {
  return units == Units::inch ? "in" : units == Units::centimetre ? "cm" : "mm";
}

std::string bloomText(const plan::Bloom& bloom) {
  std::string text = fmt::format("bloom {}: ", bloom.name);
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  text += shape ? std::string(plan::nameOf(*shape))
                : fmt::format("mesh {}", std::get<plan::MeshFile>(bloom.form).path);
  text += fmt::format(", {}", bloom.diameter.value);
  if (bloom.width) text += fmt::format(" x {}", bloom.width->value);
  if (bloom.depth) text += fmt::format(", deep {}", bloom.depth->value);
  if (bloom.plate) text += fmt::format(", plate {}", bloom.plate->value);
  if (bloom.petals) text += fmt::format(", petals {}", *bloom.petals);
  if (bloom.layers) text += fmt::format(", layers {}", *bloom.layers);
  for (const Colour colour : bloom.colours) text += fmt::format(" {}", toHex(colour));
  for (const plan::Card& card : bloom.card) text += fmt::format(", card \"{}\" {}", card.name, card.sheets);
  if (bloom.strips != 0) text += fmt::format(", strips {}", bloom.strips);
  if (bloom.minutes != 0) text += fmt::format(", minutes {}", bloom.minutes);
  if (bloom.filler) text += ", filler";
  if (bloom.stock) text += fmt::format(", stock {}", *bloom.stock);
  return text + "\n";
}

std::string planSummary(const tables::TablesPlan& plan) {
  const tables::ArrangeRequest& request = plan.request;
  std::string text =
      fmt::format("title {}\nunits {}\n{}\n", plan.title, unitsText(request.units), plan.comes_to);
  for (int row = 0; row < request.wall.rows; ++row) {
    text += "row";
    for (int column = 0; column < request.wall.columns; ++column) {
      const plan::Cell& cell = request.wall.grid.at(column, row);
      text += fmt::format(" [{}{}]", cell.layout, cell.upside_down ? " upside down" : "");
    }
    text += "\n";
  }
  for (const plan::Bloom& bloom : request.blooms) text += bloomText(bloom);
  for (const tables::KindCount& count : request.counts)
    text += fmt::format("count {}: {}{}\n", count.bloom, count.on_wall,
                        count.layout.empty() ? "" : fmt::format(" in {}", count.layout));
  for (const std::string& line : tables::guessLines(plan.guesses)) text += fmt::format("guessed {}\n", line);
  return text;
}

void setOption(tables::TablesInput& input, const std::string& key, const std::string& value) {
  if (key == "panel") input.panel = value;
  if (key == "size") input.size = value;
  if (key == "recipe") input.recipe = value;
  if (key == "title") input.title = value;
  if (key == "columns") input.columns = std::stoi(value);
  if (key == "rows") input.rows = std::stoi(value);
  if (key == "units")
    input.units = value == "in" ? Units::inch : value == "cm" ? Units::centimetre : Units::millimetre;
}

}  // namespace

std::string bytesOf(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) throw std::runtime_error("can't read " + file.string());
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

void writeBytes(const fs::path& file, const std::string& bytes) {
  fs::create_directories(file.parent_path());
  std::ofstream(file, std::ios::binary) << bytes;
}

std::string summaryOf(const Result<tables::TablesPlan>& made) {
  std::string text;
  for (const Problem& problem : made.problems) text += fmt::format("{}\n", toString(problem));
  if (made) text += planSummary(*made.value);
  for (const Problem& remark : made.warnings) text += fmt::format("remark {}\n", toString(remark));
  return text;
}

tables::TablesInput inputOf(const fs::path& folder, const std::string& name) {
  tables::TablesInput input;
  const fs::path grid = folder / (name + ".grid.csv");
  const fs::path blooms = folder / (name + ".blooms.csv");
  const fs::path options = folder / (name + ".options");
  if (fs::exists(grid)) input.grid = tables::TableFile{"grid.csv", bytesOf(grid)};
  if (fs::exists(blooms)) input.blooms = tables::TableFile{"blooms.csv", bytesOf(blooms)};
  if (!fs::exists(options)) return input;
  std::istringstream lines(bytesOf(options));
  for (std::string line; std::getline(lines, line);)
    setOption(input, line.substr(0, line.find('=')), line.substr(line.find('=') + 1));
  return input;
}

}  // namespace petalproof
