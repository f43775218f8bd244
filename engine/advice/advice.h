#pragma once
// What would help: for each shot in which holes show, the nearest change that leaves none showing, and what
// another colour of the boards would do. Nothing is said that wasn't computed: every count here is that of
// the changed shot, read at its own size.

#include "engine/check/shot_checker.h"
#include "engine/plan/plan.h"
#include "engine/scene/scene.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace petalproof::advice {

check::ReadingCounts countsOf(const std::vector<reading::Reads>& holes);

// A change that betters the count of what shows by less than a fifth isn't worth anybody's trouble.
constexpr bool worthSaying(int then, int now) { return 5 * then <= 4 * now; }

// In the order in which they are tried.
enum class ChangeKind {
  people,    // all people and the camera farther from the wall; amount: mm
  side,      // the camera around the people, to the right seen from the front (below 0: to the left); mm
  height,    // the camera up (below 0: down); mm
  distance,  // the camera farther from the people (below 0: nearer); mm
  lens,  // another focal length, the camera moved so that people stay as large; mm, in the shot's own terms
  stop   // another aperture; f-number
};

struct ShotChange {
  ChangeKind kind = ChangeKind::people;
  double amount = 0;
  plan::Shot shot;        // as changed
  bool zoom_end = false;  // `lens`: one end of the zoom, from the same place
};

struct TriedChange {
  ShotChange change;
  check::ReadingCounts counts;
};

struct ShotAdvice {
  std::string shot;  // its name
  check::ReadingCounts now;
  std::optional<TriedChange> remedy;  // leaves none showing
  std::optional<TriedChange>
      best;  // without a remedy: of all tried the one with fewest showing, if a fifth fewer than now
  int tried = 0;
  double six_largest = 0;  // share of the area of what shows that its six largest holes make
};

// One colour for all boards.
struct BoardColour {
  Colour colour;
  std::string name;  // "the green of Olive leaf", "kraft brown"
};

struct TriedColour {
  BoardColour board;
  check::ReadingCounts counts;      // over all shots
  check::ReadingCounts of_showing;  // of the holes that show now, how they would read
};

struct Advice {
  std::vector<ShotAdvice> shots;     // those in which holes show, in order
  check::ReadingCounts now;          // over all shots
  std::vector<TriedColour> colours;  // fewest showing first, then fewest faint; empty where no hole shows
};

// How one shot would read with these colours.
struct SeenShot {
  std::vector<reading::Reads> holes;  // in an order that the colours don't change
  double people_share = 0;            // of the picture
  double six_largest = 0;             // as of ShotAdvice
};
using ShotReader = std::function<SeenShot(const plan::Shot&, const scene::SceneColours&)>;

struct AskedShot {
  plan::Shot shot;
  SeenShot now;  // with the colours as they are
};

struct AdviceTask {
  const plan::Plan& plan;
  scene::SceneColours colours;  // as they are
  std::vector<AskedShot> shots;
  // Called between steps with the share done (0 to 1) and what is being done; may be empty.
  std::function<void(double, const std::string&)> progress = {};
};

// Changes of a shot are tried in the order of ChangeKind, small ones first, each within sane bounds: the
// framing of the people is kept, who is sharp stays sharp, no more of the frame runs off the wall. Tried
// first with as few pixels as the picture is looked at with, to reject; counted at the shot's own size.
Advice adviseOn(const AdviceTask& task, const ShotReader& read);

}  // namespace petalproof::advice
