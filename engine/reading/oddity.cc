#include "engine/reading/oddity.h"

#include "engine/base/threads.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::reading {
namespace {

constexpr std::size_t most_like = 5;   // pieces that a patch is held against
constexpr double near_deg = 5;         // in the picture; twice as far is as far as the other end
constexpr float most_apart = 4;        // squared, in near_deg
constexpr float place_weight = 0.25F;  // of the squared distance in the picture beside those of looks
// Differences that nobody sees don't make a wall of one colour a fine yardstick: variances of at least a just
// noticeable difference squared (2.3, CIE 1976), standard deviations likewise.
constexpr double least_colour_variance = 2.3 * 2.3;
constexpr double least_difference = 2.3;
constexpr double least_log = 0.3;

constexpr std::size_t of_size = 0;
constexpr std::size_t of_difference = 1;
constexpr std::size_t of_length = 2;  // up to here only more counts
constexpr std::size_t of_variation = 3;
constexpr std::size_t of_colour = 4;
constexpr std::size_t of_place = 7;

double logSize(const PatchLooks& patch) { return std::log(std::max(patch.area_arcmin2, 0.3)); }

// How much longer than wide.
double logLength(const PatchLooks& patch) {
  return std::log(
      std::max(patch.length_arcmin * patch.length_arcmin / std::max(patch.area_arcmin2, 0.3), 1.0));
}

template <class Value>
double deviationOf(const std::vector<PatchLooks>& pieces, const Value& value, double least) {
  double sum = 0;
  double squares = 0;
  for (const PatchLooks& piece : pieces) sum += value(piece);
  const double mean = sum / static_cast<double>(pieces.size());
  for (const PatchLooks& piece : pieces) squares += (value(piece) - mean) * (value(piece) - mean);
  return std::max(least, std::sqrt(squares / static_cast<double>(pieces.size())));
}

using Matrix = std::array<std::array<double, 3>, 3>;

Matrix colourCovariance(const std::vector<PatchLooks>& pieces) {
  glm::dvec3 mean(0);
  for (const PatchLooks& piece : pieces) mean += glm::dvec3(piece.colour);
  mean /= static_cast<double>(pieces.size());
  Matrix covariance{};
  for (const PatchLooks& piece : pieces) {
    const glm::dvec3 off = glm::dvec3(piece.colour) - mean;
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j)
        covariance[i][j] +=
            off[static_cast<int>(i)] * off[static_cast<int>(j)] / static_cast<double>(pieces.size());
  }
  for (std::size_t i = 0; i < 3; ++i) covariance[i][i] += least_colour_variance;
  return covariance;
}

// The inverse of the lower Cholesky factor.
Matrix whiteningOf(const Matrix& covariance) {
  Matrix lower{};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = covariance[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= lower[i][k] * lower[j][k];
      lower[i][j] = i == j ? std::sqrt(sum) : sum / lower[j][j];
    }
  Matrix inverse{};
  for (std::size_t column = 0; column < 3; ++column)
    for (std::size_t i = column; i < 3; ++i) {
      double sum = i == column ? 1 : 0;
      for (std::size_t k = column; k < i; ++k) sum -= lower[i][k] * inverse[k][column];
      inverse[i][column] = sum / lower[i][i];
    }
  return inverse;
}

// The smallest of many numbers, in order.
class Nearest {
 public:
  Nearest() { least_.fill(std::numeric_limits<float>::max()); }
  void add(float squared) {
    if (squared >= least_.back()) return;
    std::size_t k = most_like - 1;
    for (; k > 0 && least_[k - 1] > squared; --k) least_[k] = least_[k - 1];
    least_[k] = squared;
  }
  float meanDistance() const {
    float sum = 0;
    for (const float squared : least_) sum += std::sqrt(squared);
    return sum / most_like;
  }

 private:
  std::array<float, most_like> least_;
};

}  // namespace

Oddity::Oddity(const std::vector<PatchLooks>& pieces, PieceOrigin origin, int threads) : origin_(origin) {
  if (pieces.size() < fewest_pieces) return;
  findScales(pieces);
  std::vector<Features> all;
  for (const PatchLooks& piece : pieces) {
    all.push_back(featuresOf(piece));
    for (std::size_t f = 0; f < features; ++f) pieces_[f].push_back(all.back()[f]);
  }
  scores_.resize(pieces.size());
  Workers workers(threads);
  workers.run([&] { forEach(all.size(), [&](std::size_t k) { scores_[k] = scoreOf(all[k], k); }); });
  sorted_ = scores_;
  std::sort(sorted_.begin(), sorted_.end());
}

void Oddity::findScales(const std::vector<PatchLooks>& pieces) {
  scales_ = {deviationOf(pieces, logSize, least_log),
             deviationOf(
                 pieces, [](const PatchLooks& p) { return p.difference; }, least_difference),
             deviationOf(pieces, logLength, least_log),
             deviationOf(
                 pieces, [](const PatchLooks& p) { return p.variation; }, least_difference)};
  whiten_ = whiteningOf(colourCovariance(pieces));
}

Oddity::Features Oddity::featuresOf(const PatchLooks& patch) const {
  Features f{};
  f[of_size] = static_cast<float>(logSize(patch) / scales_[0]);
  f[of_difference] = static_cast<float>(patch.difference / scales_[1]);
  f[of_length] = static_cast<float>(logLength(patch) / scales_[2]);
  f[of_variation] = static_cast<float>(patch.variation / scales_[3]);
  for (std::size_t i = 0; i < 3; ++i) {
    double sum = 0;
    for (std::size_t j = 0; j <= i; ++j)
      sum += whiten_[i][j] * static_cast<double>(patch.colour[static_cast<int>(j)]);
    f[of_colour + i] = static_cast<float>(sum);
  }
  if (origin_ == PieceOrigin::same_picture) {
    f[of_place] = static_cast<float>(patch.centre_deg.x / near_deg);
    f[of_place + 1] = static_cast<float>(patch.centre_deg.y / near_deg);
  }
  return f;
}

float Oddity::scoreOf(const Features& patch, std::size_t left_out) const {
  Nearest nearest;
  for (std::size_t k = 0; k < pieces_[0].size(); ++k) {
    float squared = 0;
    for (std::size_t f = 0; f < of_place; ++f) {
      float apart = patch[f] - pieces_[f][k];
      if (f <= of_length) apart = std::max(apart, 0.0F);
      squared += apart * apart;
    }
    const float across = patch[of_place] - pieces_[of_place][k];
    const float down = patch[of_place + 1] - pieces_[of_place + 1][k];
    squared += place_weight * std::min(across * across + down * down, most_apart);
    if (k != left_out) nearest.add(squared);
  }
  return nearest.meanDistance();
}

double Oddity::shareBelow(float score) const {
  const auto below = std::lower_bound(sorted_.begin(), sorted_.end(), score) - sorted_.begin();
  return static_cast<double>(below) / static_cast<double>(sorted_.size());
}

double Oddity::odderThan(const PatchLooks& patch) const {
  return shareBelow(scoreOf(featuresOf(patch), sorted_.size()));
}

double Oddity::odderThanOthers(std::size_t piece) const {
  const double others = static_cast<double>(sorted_.size()) - 1;
  return shareBelow(scores_[piece]) * static_cast<double>(sorted_.size()) / others;
}

}  // namespace petalproof::reading
