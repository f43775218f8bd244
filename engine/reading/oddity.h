#pragma once
// How odd a patch is among pieces of paper: an outlier test in the space of what patches look like.
//
// What stands out in a scene is an outlier among what lies around (R. Rosenholtz, Y. Li, L. Nakano,
// "Measuring Visual Clutter", Journal of Vision 7(2):17, 2007). A wall's paper comes in several colours, so
// one mean and covariance don't describe it: a patch is as odd as it is far from the few pieces most like it,
// and nearer pieces in the picture count more. Scales are the pieces' own: how much the colours of pieces
// of like colour vary (their covariance), the standard deviations of the rest. A piece that is larger,
// differs as much from what surrounds it, or is as long and thin excuses a patch: in these only what a patch
// has more counts. So does a piece of the same paper in other light: petals shade each other, so colours that
// lie towards black or towards full light by no more than the piece's own colours vary are not apart. What is
// small is overlooked: a patch stands out by how odd it is times how long it looks, up to a degree. Pieces
// are not excused so: a small one is an edge of petals, which nobody takes for itself. Then ranks: a patch is
// odder than the share of pieces that are less odd among all the other pieces (as in conformal prediction: V.
// Vovk, A. Gammerman, G. Shafer, "Algorithmic Learning in a Random World", 2005, so at most a tenth of the
// pieces is odder than 0.9 of them).

#include "engine/base/pool.h"
#include "engine/reading/patch_looks.h"

#include <array>
#include <cstddef>
#include <vector>

namespace petalproof::reading {

// Whether the pieces' places in the picture mean anything for what is held against them.
enum class PieceOrigin { same_picture, elsewhere };

class Oddity {
 public:
  static constexpr std::size_t fewest_pieces = 6;  // with fewer nothing can be said

  Oddity() = default;
  Oddity(const std::vector<PatchLooks>& pieces, const Pool& pool,
         PieceOrigin origin = PieceOrigin::same_picture);

  std::size_t pieces() const { return scores_.size(); }
  bool says() const { return pieces() >= fewest_pieces; }

  // The share of pieces that are less odd among the others than the patch is among all: 0 to 1. Asked only
  // where says().
  double odderThan(const PatchLooks& patch) const;
  // The same of a piece, left out of its own yardstick.
  double odderThanOthers(std::size_t piece) const;

 private:
  struct Features {
    std::array<float, 3> more{};  // size, difference, length: only more of them counts
    float variation = 0;
    glm::vec3 colour{0};  // CIELAB
    glm::vec3 light{0};   // unit, from black through the colour
    float shade = 0;      // standard deviation of the colours within
    std::array<float, 2> place{};
  };

  Features featuresOf(const PatchLooks& patch) const;
  static glm::vec3 colourApart(const Features& patch, const Features& piece);
  std::array<std::array<double, 3>, 3> colourCovariance(const Pool& pool) const;
  float apartSquared(const Features& patch, const Features& piece) const;
  float scoreOf(const Features& patch, std::size_t left_out) const;
  double shareBelow(float score) const;
  void findScales(const std::vector<PatchLooks>& pieces);

  PieceOrigin origin_ = PieceOrigin::same_picture;
  std::array<double, 4> scales_{};                // of size, difference, variation, length
  std::array<std::array<float, 3>, 3> whiten_{};  // colours to independent ones of unit variance
  std::vector<Features> pieces_;
  std::vector<float> scores_;  // as pieces
  std::vector<float> sorted_;
};

}  // namespace petalproof::reading
