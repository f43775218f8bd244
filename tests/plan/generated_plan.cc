#include "tests/plan/generated_plan.h"

#include "engine/plan/plan_defaults.h"
#include "engine/plan/shape_names.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <string>
#include <vector>

namespace petalproof {
namespace {

constexpr std::array<const char*, 16> pieces = {
    "ember", "sun", " ", "\u00e9t\u00e9", "\u82b1", "\"",   "\\",    "'", "#",
    "= ",    "[x]", ".", "\U0001F33A",    "upside", "down", "no. 7",
};

class Generator {
 public:
  explicit Generator(std::uint64_t seed) : random_(seed) {}

  plan::Plan plan() {
    plan::Plan made;
    made.title = label();
    made.units = std::array{Units::inch, Units::centimetre, Units::millimetre}[below(3)];
    if (maybe()) made.seed = random_() >> 1;
    if (maybe()) made.variation = real(0, 5);
    for (int k = count(1, 6); k > 0; --k) made.blooms.push_back(bloom());
    for (int k = count(0, 4); k > 0; --k) made.layouts.push_back(layout(made));
    made.wall = wall(made);
    for (int k = count(0, 3); k > 0; --k) made.fillers.push_back({placement(made), maybe()});
    for (int k = count(0, 4); k > 0; --k) made.shots.push_back(shot(made.units));
    if (maybe()) made.hands = hands();
    if (maybe()) made.reading = reading();
    return made;
  }

 private:
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }
  bool maybe() { return below(2) == 0; }
  int count(int min, int max) {
    return min + static_cast<int>(below(static_cast<std::size_t>(max - min + 1)));
  }

  // As typed by people, or with all its digits, over many magnitudes.
  double real(double min, double max) {
    const double value = std::uniform_real_distribution<double>(min, max)(random_);
    switch (below(4)) {
      case 0: return std::clamp(std::round(value), min, max);
      case 1: return std::clamp(std::round(value * 16) / 16, min, max);
      case 2:
        return min > 0 ? min * std::pow(max / min, std::uniform_real_distribution<double>(0, 1)(random_))
                       : value;
      default: return value;
    }
  }

  Length positive() { return {real(0.02, 900)}; }
  Length zeroOrMore() { return {maybe() ? 0 : real(0, 900)}; }
  Length anyLength() { return {real(-900, 900)}; }
  Colour colour() {
    const auto byte = [&] { return static_cast<std::uint8_t>(below(256)); };
    const std::uint8_t red = byte();
    const std::uint8_t green = byte();
    return {red, green, byte()};
  }

  std::string label() {
    std::string text;
    for (int k = count(0, 5); k > 0; --k) text += pieces[below(pieces.size())];
    if (below(4) == 0) text += "\n\t\r\x01\x7f";
    return text;
  }

  std::string uniqueName() {
    std::string text;
    for (int k = count(0, 4); k > 0; --k) text += pieces[below(pieces.size())];
    const auto start = text.find_first_not_of(' ');
    return fmt::format("{}{}", start == std::string::npos ? "" : text.substr(start), ++names_);
  }

  template <class T, class Make>
  void sometimes(std::optional<T>& target, Make make) {
    if (maybe()) target = make();
  }

  Length part(Length whole) { return {whole.value * real(0.2, 1)}; }

  void round(plan::Bloom& bloom) {
    const plan::Shape shape = static_cast<plan::Shape>(below(plan::shapeNames().size()));
    bloom.form = shape;
    if (plan::takesWidth(shape)) sometimes(bloom.width, [&] { return part(bloom.diameter); });
    sometimes(bloom.petals, [&] { return count(1, 60); });
    sometimes(bloom.layers, [&] { return count(1, 8); });
  }

  std::vector<plan::Card> card() {
    if (maybe()) return {{"", real(0, 100)}};
    std::vector<plan::Card> cards;
    for (int k = count(1, 3); k > 0; --k) cards.push_back({uniqueName(), real(0, 100)});
    return cards;
  }

  plan::Bloom bloom() {
    plan::Bloom made;
    made.name = uniqueName();
    made.label = label();
    made.diameter = {real(0.05, 900)};
    if (below(4) == 0)
      made.form = plan::MeshFile{uniqueName() + ".obj"};
    else
      round(made);
    sometimes(made.depth, [&] { return positive(); });
    for (int k = count(1, 3); k > 0; --k) made.colours.push_back(colour());
    if (maybe()) made.card = card();
    if (maybe()) made.strips = real(0, 20);
    sometimes(made.plate, [&] { return part(made.diameter); });
    if (maybe()) made.minutes = real(0, 200);
    made.filler = maybe();
    sometimes(made.stock, [&] { return count(0, 1000); });
    return made;
  }

  plan::Placement placement(const plan::Plan& plan) {
    plan::Placement made;
    made.bloom = plan.blooms[below(plan.blooms.size())].name;
    made.at = {anyLength(), anyLength()};
    if (maybe()) made.turn_deg = real(-360, 360);
    if (maybe()) made.raised = zeroOrMore();
    sometimes(made.colour, [&] { return colour(); });
    return made;
  }

  plan::Layout layout(const plan::Plan& plan) {
    plan::Layout made{uniqueName(), {}};
    for (int k = count(0, 6); k > 0; --k) made.blooms.push_back(placement(plan));
    return made;
  }

  plan::Cell cell(const plan::Plan& plan) {
    if (plan.layouts.empty() || below(5) == 0) return {};
    return {plan.layouts[below(plan.layouts.size())].name, maybe()};
  }

  plan::Board board(plan::Board made) {
    if (maybe()) made.thickness = positive();
    if (maybe()) made.colour = colour();
    sometimes(made.edge, [&] { return colour(); });
    if (maybe()) made.ground = plan::Ground::covered;
    return made;
  }

  plan::Wall wall(const plan::Plan& plan) {
    plan::Wall made = plan::defaultWall(plan.units);
    made.columns = count(1, 9);
    made.rows = count(1, 9);
    made.panel = {{real(100, 900)}, {real(100, 900)}};
    if (maybe()) made.seam = {real(0, 50)};
    if (maybe()) made.above_floor = zeroOrMore();
    made.board = board(made.board);
    if (maybe()) made.behind = colour();
    sometimes(made.room.colour, [&] { return colour(); });
    sometimes(made.room.ceiling, [&] { return positive(); });
    sometimes(made.room.depth, [&] { return positive(); });
    if (maybe()) made.mounting = plan::Mounting::solidWall;
    made.grid = Grid<plan::Cell>(made.columns, made.rows);
    for (plan::Cell& each : made.grid.cells()) each = cell(plan);
    return made;
  }

  plan::Sensor sensor() {
    constexpr std::array<const char*, 5> names = {"full frame", "APS-C", "four thirds", "1 inch", "phone"};
    constexpr double sides[][2] = {{36, 24}, {23.6, 15.8}, {17.3, 13}, {13.2, 8.8}, {9.8, 7.35}};
    if (maybe()) {
      const std::size_t k = below(names.size());
      return {names[k], sides[k][0], sides[k][1]};
    }
    const double height = real(1, 100);
    return {"", height * real(1, 2), height};
  }

  plan::LookedAt lookedAt() {
    constexpr std::array<const char*, 6> names = {"print 8x10", "print 4x6", "print 3.5x5",
                                                  "phone",      "album",     "laptop"};
    if (maybe()) return {names[below(names.size())], {}, {}};
    return {"", positive(), positive()};
  }

  plan::Person person(Units units) {
    return {{real(300 * 1.01, 2750 * 0.99) / millimetresPer(units)}, anyLength(), zeroOrMore()};
  }

  plan::Shot shot(Units units) {
    plan::Shot made;
    made.name = uniqueName();
    made.label = label();
    made.sensor = sensor();
    made.upright = maybe();
    if (maybe()) made.megapixels = real(0.01, 100);
    made.lens = {real(1, 1000), maybe()};
    sometimes(made.lens.to_mm, [&] { return made.lens.mm + real(0.25, 1000); });
    if (maybe()) made.aperture = real(0.5, 64);
    made.camera_right = anyLength();
    made.camera_above_floor = anyLength();
    made.camera_out = anyLength();
    made.aim_right = anyLength();
    made.aim_above_floor = anyLength();
    sometimes(made.focus, [&] { return positive(); });
    sometimes(made.crop, [&] { return plan::CropShape{real(1, 20), real(1, 20)}; });
    sometimes(made.looked_at, [&] { return lookedAt(); });
    for (int k = count(0, 3); k > 0; --k) made.people.push_back(person(units));
    return made;
  }

  plan::Hands hands() {
    return {real(0, 1), real(0, 1), zeroOrMore(), real(0, 180), zeroOrMore(), zeroOrMore()};
  }

  plan::ReadingThresholds reading() {
    const double odd_faint = real(0, 0.9);
    return {real(0.01, 20), odd_faint, odd_faint + real(0, 0.1)};
  }

  std::mt19937_64 random_;
  int names_ = 0;
};

}  // namespace

plan::Plan generatedPlan(std::uint64_t seed) { return Generator(seed).plan(); }

}  // namespace petalproof
