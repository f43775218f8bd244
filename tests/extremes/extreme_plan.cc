#include "tests/extremes/extreme_plan.h"

#include "engine/plan/plan_defaults.h"
#include "engine/plan/read_plan.h"
#include "engine/plan/write_plan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

namespace petalproof::testing {
namespace {

// In millimetres throughout.
class Extreme {
 public:
  explicit Extreme(std::uint64_t seed) : random_(seed * 0x9e3779b97f4a7c15U + 1) {}

  plan::Plan plan() {
    plan::Plan made;
    made.title = "Extremes";
    made.units = Units::millimetre;
    made.seed = random_() >> 1;
    made.variation = pick({0, 1, 5});
    makeWall(made.wall);
    width_ = toMillimetres(plan::wallOutline(made.wall).width, made.units);
    height_ = toMillimetres(plan::wallOutline(made.wall).height, made.units);
    const int kinds = whole(1, 3);
    for (int k = 0; k < kinds; ++k) made.blooms.push_back(bloom(made.wall, k));
    made.layouts.push_back(layout(made, "full", most_blooms_ / cells_));
    made.layouts.push_back({"empty", {}});
    fillGrid(made.wall);
    if (chance(0.3)) addFillers(made);
    const int shots = chance(0.7) ? 1 : 2;
    for (int k = 0; k < shots; ++k) made.shots.push_back(shot(made, k));
    if (chance(0.15)) {
      made.hands = plan::defaultHands(made.units);
      made.hands->bloom_depth = pick({0, 0.15, 0.5});
    }
    return made;
  }

 private:
  double real(double from, double to) { return std::uniform_real_distribution<double>(from, to)(random_); }
  double log(double from, double to) { return from * std::pow(to / from, real(0, 1)); }
  int whole(int from, int to) { return std::uniform_int_distribution<int>(from, to)(random_); }
  bool chance(double share) { return real(0, 1) < share; }
  double pick(std::initializer_list<double> values) {
    return *(values.begin() + whole(0, static_cast<int>(values.size()) - 1));
  }
  Colour colour() {
    const auto part = [this] { return static_cast<std::uint8_t>(whole(0, 255)); };
    return {part(), part(), part()};
  }

  void makeWall(plan::Wall& wall) {
    switch (whole(0, 7)) {
      case 0: setGrid(wall, 1, 200, 300, 250); break;
      case 1: setGrid(wall, 200, 1, 250, 300); break;
      case 2: setGrid(wall, whole(1, 3), whole(1, 3), log(0.01, 5), log(0.01, 5)); break;
      case 3: setGrid(wall, whole(1, 4), whole(1, 4), log(3000, 2e5), log(3000, 2e5)); break;
      case 4: setGrid(wall, whole(20, 60), whole(20, 60), log(50, 600), log(50, 600)); break;
      default: setGrid(wall, whole(1, 5), whole(1, 5), log(200, 700), log(200, 700)); break;
    }
    wall.seam = {chance(0.3) ? 0 : chance(0.3) ? log(20, 500) : real(0.5, 5)};
    // As wide as a panel no slit may be.
    wall.seam.value =
        std::min(wall.seam.value, 0.95 * std::min(wall.panel.width.value, wall.panel.height.value));
    wall.above_floor = {pick({0, 150, 5000})};
    wall.board.thickness = {pick({0.01, 5, 60, 400})};
    wall.board.colour = colour();
    if (chance(0.2)) wall.board.ground = plan::Ground::covered;
    if (chance(0.2)) wall.mounting = plan::Mounting::solidWall;
    cells_ = wall.columns * wall.rows;
  }

  static void setGrid(plan::Wall& wall, int columns, int rows, double width, double height) {
    wall.columns = columns;
    wall.rows = rows;
    wall.panel = {{width}, {height}};
  }

  plan::Bloom bloom(const plan::Wall& wall, int number) {
    plan::Bloom made;
    made.name = std::string("bloom ") + static_cast<char>('a' + number);
    const double panel = std::min(wall.panel.width.value, wall.panel.height.value);
    if (number == 0 && chance(0.2))
      made.form = plan::MeshFile{"lotus.obj"};
    else
      made.form = static_cast<plan::Shape>(whole(0, 11));
    made.diameter = {std::clamp(panel * (chance(0.15) ? log(2, 50) : log(0.05, 1.2)), 0.05, 9e5)};
    if (chance(0.3))
      made.depth = Length{std::clamp(made.diameter.value * pick({0.001, 0.02, 0.5, 3}), 0.02, 9e5)};
    if (std::holds_alternative<plan::Shape>(made.form) && chance(0.3)) made.petals = whole(1, 60);
    if (std::holds_alternative<plan::Shape>(made.form) && chance(0.3)) made.layers = whole(1, 8);
    made.colours = {colour()};
    if (chance(0.3)) made.colours.push_back(colour());
    made.filler = number > 0 || chance(0.5);
    if (made.filler && chance(0.3)) made.stock = whole(0, 20);
    return made;
  }

  plan::Placement placement(const plan::Plan& plan, double width, double height) {
    plan::Placement made;
    made.bloom =
        plan.blooms[static_cast<std::size_t>(whole(0, static_cast<int>(plan.blooms.size()) - 1))].name;
    const auto along = [&](double side) {
      return Length{chance(0.1) ? real(-3, 4) * side : real(0, 1) * side};
    };
    made.at = {along(width), along(height)};
    made.turn_deg = real(-180, 180);
    if (chance(0.1)) made.raised = {pick({1, 30, 500})};
    return made;
  }

  plan::Layout layout(const plan::Plan& plan, const std::string& name, int most) {
    plan::Layout made{name, {}};
    for (int k = std::min(most, whole(0, 14)); k > 0; --k)
      made.blooms.push_back(placement(plan, plan.wall.panel.width.value, plan.wall.panel.height.value));
    return made;
  }

  void fillGrid(plan::Wall& wall) {
    wall.grid = Grid<plan::Cell>(wall.columns, wall.rows);
    const double empty = pick({0, 0, 0.2, 0.7});
    const double bare = pick({0, 0.3, 1});
    for (plan::Cell& cell : wall.grid.cells())
      if (!chance(empty)) cell = {chance(bare) ? "empty" : "full", chance(0.3)};
  }

  void addFillers(plan::Plan& plan) {
    for (int k = whole(1, 6); k > 0; --k)
      plan.fillers.push_back({placement(plan, width_, height_), chance(0.5)});
  }

  // Millimetres from the wall, as far as a hall is long, behind petals, at a grazing angle.
  void placeCamera(plan::Shot& shot) {
    const double far = std::max(width_, height_);
    shot.camera_out = {chance(0.35)  ? log(0.1, 60)
                       : chance(0.2) ? log(5000, 9e5)
                                     : std::clamp(far * log(0.2, 4), 0.1, 9e5)};
    shot.camera_right = {
        std::clamp(chance(0.3) ? real(-3, 3) * width_ : real(-0.5, 0.5) * width_, -9e5, 9e5)};
    shot.camera_above_floor = {real(0, 1) * height_};
    shot.aim_right = {std::clamp(chance(0.2) ? real(-20, 20) * width_ : real(-0.5, 0.5) * width_, -9e5, 9e5)};
    shot.aim_above_floor = {
        std::clamp(chance(0.2) ? real(-20, 20) * height_ : real(0, 1) * height_, -9e5, 9e5)};
  }

  void lookAt(plan::Shot& shot) {
    switch (whole(0, 6)) {
      case 0: shot.looked_at = plan::LookedAt{"", {log(0.01, 10)}, {log(1000, 9e5)}}; break;
      case 1: shot.looked_at = plan::LookedAt{"", {log(1000, 9e5)}, {log(0.01, 100)}}; break;
      case 2: shot.looked_at = plan::LookedAt{"print 0.001x0.001", {}, {}}; break;
      case 3: shot.looked_at = plan::LookedAt{"print 1000x0.01", {}, {}}; break;
      case 4: shot.looked_at = plan::LookedAt{"phone", {}, {}}; break;
      default: break;
    }
  }

  plan::Shot shot(const plan::Plan& plan, int number) {
    plan::Shot made;
    made.name = number == 0 ? "first" : "second";
    made.sensor =
        chance(0.2) ? plan::Sensor{"", pick({1, 100, 1000}), 1} : plan::Sensor{"full frame", 36, 24};
    made.upright = chance(0.3);
    made.megapixels = chance(0.04) ? 100 : log(0.01, 3);
    made.lens.mm = chance(0.2) ? pick({1, 2000}) : log(1, 2000);
    if (chance(0.1)) made.lens.to_mm = made.lens.mm * 2;
    made.aperture = chance(0.3) ? pick({0.5, 64}) : log(0.5, 64);
    placeCamera(made);
    // Sharp somewhere beyond the focal length, which a camera at the board must be told.
    const double focal = made.lens.to_mm.value_or(made.lens.mm);
    if (chance(0.4) || made.camera_out.value <= focal)
      made.focus = Length{chance(0.4) ? focal * real(1.000001, 1.1) : log(focal * 1.01, 9e5)};
    if (chance(0.2)) made.crop = plan::CropShape{pick({0.01, 1}), 1};
    lookAt(made);
    for (int k = chance(0.3) ? whole(1, 4) : 0; k > 0; --k)
      made.people.push_back({{real(300, 2750)},
                             {real(-0.6, 0.6) * std::min(width_, 9e5)},
                             {chance(0.3) ? 0 : log(1, std::max(2.0, made.camera_out.value))}});
    (void)plan;
    return made;
  }

  static constexpr int most_blooms_ = 4000;
  std::mt19937_64 random_;
  double width_ = 0;
  double height_ = 0;
  int cells_ = 1;
};

}  // namespace

std::string extremePlan(std::uint64_t seed, const std::filesystem::path& folder) {
  for (std::uint64_t attempt = 0;; ++attempt) {
    const std::string text = plan::writePlan(Extreme(seed + attempt * 1'000'003).plan());
    if (plan::readPlan(text, "extreme.toml", folder)) return text;
  }
}

}  // namespace petalproof::testing
