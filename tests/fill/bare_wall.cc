#include "tests/fill/bare_wall.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <vector>

namespace petalproof::testing {
namespace {

// A folder that has a file of that text, whoever writes it first.
std::filesystem::path folderWith(const std::string& name, const std::string& text) {
  const auto folder = std::filesystem::temp_directory_path() / fmt::format("petalproof_fill_{}", getuid());
  if (std::filesystem::exists(folder / name)) return folder;
  std::filesystem::create_directories(folder);
  const auto unfinished = folder / fmt::format("{}.{}", name, getpid());
  std::ofstream(unfinished) << text;
  std::filesystem::rename(unfinished, folder / name);
  return folder;
}

// A flat disc of 64 corners; a plan's OBJ is fitted to its diameter.
std::filesystem::path folderWithDisc() {
  constexpr int corners = 64;
  std::string disc;
  for (int k = 0; k < corners; ++k)
    disc +=
        fmt::format("v {:.6f} {:.6f} 0\n", std::cos(2 * pi * k / corners), std::sin(2 * pi * k / corners));
  disc += "f";
  for (int k = 0; k < corners; ++k) disc += fmt::format(" {}", k + 1);
  return folderWith("disc.obj", disc + "\n");
}

struct Rectangle {
  double left = 0;
  double low = 0;
  double right = 0;
  double high = 0;
};

std::string meshOf(const std::vector<Rectangle>& rectangles) {
  std::string mesh;
  for (const Rectangle& r : rectangles)
    mesh += fmt::format("v {0} {1} 0\nv {2} {1} 0\nv {2} {3} 0\nv {0} {3} 0\nf -4 -3 -2 -1\n", r.left, r.low,
                        r.right, r.high);
  return mesh;
}

struct BareWall {
  std::string wall;     // the section's own lines
  double width_mm = 0;  // of all
  double height_mm = 0;
  double diameter_mm = 0;
  std::string more;
  std::string colours = "\"#c98a2b\"";
  std::string blooms;  // of the layout
};

plan::LoadedPlan planOf(const BareWall& bare) {
  const std::string text =
      fmt::format(R"(
format = 1
title = "Bare"
units = "mm"
variation = 0
[wall]
{0}
[[bloom]]
name = "disc"
mesh = "disc.obj"
diameter = {1}
depth = 0.1
plate = 6
colour = [{5}]
filler = true
[[layout]]
name = "bare"
blooms = [{6}]
{2}
[[shot]]
name = "front"
sensor = "full frame"
megapixels = 1
lens = 50
camera = [0, {3}, {4}]
aim = [0, {3}]
)",
                  bare.wall, bare.diameter_mm, bare.more, bare.height_mm / 2,
                  2 * std::max(bare.width_mm, 1.6 * bare.height_mm), bare.colours, bare.blooms);
  Result<plan::LoadedPlan> loaded = plan::readPlan(text, "bare.toml", folderWithDisc());
  for (const Problem& problem : loaded.problems) FAIL(toString(problem));
  return *loaded.value;
}

}  // namespace

plan::LoadedPlan barePanel(double width_mm, double height_mm, double diameter_mm, const std::string& more) {
  BareWall wall;
  wall.wall =
      fmt::format("columns = 1\nrows = 1\npanel = [{}, {}]\ngrid = [[\"bare\"]]", width_mm, height_mm);
  wall.width_mm = width_mm;
  wall.height_mm = height_mm;
  wall.diameter_mm = diameter_mm;
  wall.more = more;
  return planOf(wall);
}

plan::LoadedPlan bareSeam(double height_mm, double seam_mm, double diameter_mm) {
  constexpr double panel_mm = 150;
  BareWall wall;
  wall.wall = fmt::format(
      "columns = 2\nrows = 1\npanel = [{}, {}]\nseam = {}\n"
      "board = {{ ground = \"covered\" }}\ngrid = [[\"bare\", \"bare\"]]",
      panel_mm, height_mm, seam_mm);
  wall.width_mm = 2 * panel_mm + seam_mm;
  wall.height_mm = height_mm;
  wall.diameter_mm = diameter_mm;
  return planOf(wall);
}

plan::LoadedPlan discsOnCoveredBoard(const CoveredBoard& board) {
  BareWall wall;
  wall.wall = fmt::format(
      "columns = 1\nrows = 1\npanel = [{}, {}]\ngrid = [[\"bare\"]]\n"
      "board = {{ colour = \"#ffffff\", ground = \"covered\" }}",
      board.width_mm, board.height_mm);
  wall.width_mm = board.width_mm;
  wall.height_mm = board.height_mm;
  wall.diameter_mm = board.diameter_mm;
  wall.more = fmt::format(
      "[[bloom]]\nname = \"great\"\nmesh = \"disc.obj\"\ndiameter = 1200\n"
      "depth = 0.05\ncolour = \"{}\"",
      toHex(board.great));
  wall.colours.clear();
  for (const Colour& colour : board.colours) wall.colours += fmt::format("\"{}\", ", toHex(colour));
  wall.blooms = board.blooms;
  return planOf(wall);
}

plan::LoadedPlan holeWithTail(double tail_mm, const Colour& cover) {
  constexpr double width = 300;
  constexpr double height = 200;
  const double low = 149 - tail_mm / 2;  // a line of the grid of places runs along its middle
  folderWith(fmt::format("tail{}.obj", tail_mm), meshOf({{0, 0, width, 120},
                                                         {0, 180, width, height},
                                                         {240, 110, width, 190},
                                                         {0, 110, 60, 190},
                                                         {50, 110, 180, low},
                                                         {50, low + tail_mm, 180, 190}}));
  BareWall wall;
  wall.wall = fmt::format("columns = 1\nrows = 1\npanel = [{}, {}]\ngrid = [[\"bare\"]]", width, height);
  wall.width_mm = width;
  wall.height_mm = height;
  wall.diameter_mm = 100;
  wall.colours = fmt::format("\"{}\"", toHex(cover));
  wall.blooms = fmt::format("{{ bloom = \"cover\", at = [0, {}] }}", height);
  wall.more = fmt::format(
      "[[bloom]]\nname = \"cover\"\nmesh = \"tail{}.obj\"\ndiameter = {}\ndepth = 0.05\nplate = 6\n"
      "colour = \"{}\"",
      tail_mm, 2 * std::hypot(width, height), toHex(cover));
  return planOf(wall);
}

fill::FillOptions everything() {
  fill::FillOptions options;
  options.hide = fill::Hide::all;
  options.readings = false;
  options.walls = fill::CleanWalls{0, 1};
  return options;
}

}  // namespace petalproof::testing
