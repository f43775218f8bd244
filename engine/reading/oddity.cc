#include "engine/reading/oddity.h"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace petalproof::reading {
namespace {

using Matrix = std::array<std::array<double, 3>, 3>;

constexpr std::size_t most_like = 5;      // pieces that a patch is held against
constexpr std::size_t like_colours = 20;  // pieces whose colours say how much colours of one paper vary
constexpr double near_deg = 5;            // in the picture; twice as far is as far as the other end
constexpr float most_apart = 4;           // squared, in near_deg
constexpr float place_weight = 0.25F;     // of the squared distance in the picture beside those of looks
// Differences that nobody sees don't make a wall of one colour a fine yardstick: variances of at least a just
// noticeable difference squared (2.3, CIE 1976), standard deviations likewise.
constexpr double least_colour_variance = 2.3 * 2.3;
constexpr double least_difference = 2.3;
constexpr double least_log = 0.3;

// A patch that is flatter than pieces counts a third of that: petals lie flat now and then.
constexpr float flatter_weight = 1.0F / 3;
constexpr double black_lightness = -16;  // L* where the lines of constant colour in CIELAB meet (CIE 15:2004)

// The eye sums up over as much as a degree: what is shorter stands out less, in proportion (Piper's law of
// spatial summation, 1903; value from memory).
constexpr double summed_arcmin = 60;

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

// The inverse of the lower Cholesky factor.
std::array<std::array<float, 3>, 3> whiteningOf(const Matrix& covariance) {
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
  std::array<std::array<float, 3>, 3> rounded{};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j) rounded[i][j] = static_cast<float>(inverse[i][j]);
  return rounded;
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

Oddity::Oddity(const std::vector<PatchLooks>& pieces, const Pool& pool, PieceOrigin origin)
    : origin_(origin) {
  if (pieces.size() < fewest_pieces) return;
  findScales(pieces);
  for (const PatchLooks& piece : pieces) pieces_.push_back(featuresOf(piece));
  scores_.resize(pieces.size());
  whiten_ = whiteningOf(colourCovariance(pool));
  pool.forEach(pieces_.size(), [&](std::size_t k) { scores_[k] = scoreOf(pieces_[k], k); });
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
}

std::array<std::array<double, 3>, 3> Oddity::colourCovariance(const Pool& pool) const {
  const std::size_t count = std::min(like_colours, pieces_.size() - 1);
  std::vector<Matrix> sums(pieces_.size());
  pool.forEach(pieces_.size(), [&](std::size_t k) {
    std::vector<glm::vec3> apart;
    for (std::size_t other = 0; other < pieces_.size(); ++other)
      if (other != k) apart.push_back(colourApart(pieces_[k], pieces_[other]));
    std::nth_element(apart.begin(), apart.begin() + static_cast<std::ptrdiff_t>(count - 1), apart.end(),
                     [](const glm::vec3& a, const glm::vec3& b) { return glm::dot(a, a) < glm::dot(b, b); });
    for (std::size_t n = 0; n < count; ++n)
      for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j)
          sums[k][i][j] += static_cast<double>(apart[n][static_cast<int>(i)] * apart[n][static_cast<int>(j)]);
  });
  Matrix covariance{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      for (const Matrix& sum : sums) covariance[i][j] += sum[i][j];
      covariance[i][j] /= static_cast<double>(pieces_.size() * count);
    }
    covariance[i][i] += least_colour_variance;
  }
  return covariance;
}

Oddity::Features Oddity::featuresOf(const PatchLooks& patch) const {
  Features f;
  f.more = {static_cast<float>(logSize(patch) / scales_[0]),
            static_cast<float>(patch.difference / scales_[1]),
            static_cast<float>(logLength(patch) / scales_[2])};
  f.variation = static_cast<float>(patch.variation / scales_[3]);
  f.shade = static_cast<float>(patch.variation);
  f.colour = patch.colour;
  const glm::dvec3 from_black(static_cast<double>(patch.colour.x) - black_lightness, patch.colour.y,
                              patch.colour.z);
  f.light = glm::vec3(from_black / std::max(glm::length(from_black), 1.0));
  if (origin_ == PieceOrigin::same_picture)
    f.place = {static_cast<float>(patch.centre_deg.x / near_deg),
               static_cast<float>(patch.centre_deg.y / near_deg)};
  return f;
}

// Without what other light on the same paper accounts for.
glm::vec3 Oddity::colourApart(const Features& patch, const Features& piece) {
  const glm::vec3 apart = patch.colour - piece.colour;
  const float along = glm::dot(apart, piece.light);
  return apart - std::clamp(along, -piece.shade, piece.shade) * piece.light;
}

float Oddity::apartSquared(const Features& patch, const Features& piece) const {
  float squared = 0;
  for (std::size_t k = 0; k < patch.more.size(); ++k) {
    const float more = std::max(patch.more[k] - piece.more[k], 0.0F);
    squared += more * more;
  }
  const float varied = patch.variation - piece.variation;
  squared += varied * varied * (varied < 0 ? flatter_weight * flatter_weight : 1);

  const glm::vec3 apart = colourApart(patch, piece);
  for (std::size_t i = 0; i < 3; ++i) {
    float independent = 0;
    for (std::size_t j = 0; j <= i; ++j) independent += whiten_[i][j] * apart[static_cast<int>(j)];
    squared += independent * independent;
  }

  const float across = patch.place[0] - piece.place[0];
  const float down = patch.place[1] - piece.place[1];
  return squared + place_weight * std::min(across * across + down * down, most_apart);
}

float Oddity::scoreOf(const Features& patch, std::size_t left_out) const {
  Nearest nearest;
  for (std::size_t k = 0; k < pieces_.size(); ++k)
    if (k != left_out) nearest.add(apartSquared(patch, pieces_[k]));
  return nearest.meanDistance();
}

double Oddity::shareBelow(float score) const {
  const auto below = std::lower_bound(sorted_.begin(), sorted_.end(), score) - sorted_.begin();
  return static_cast<double>(below) / static_cast<double>(sorted_.size());
}

double Oddity::odderThan(const PatchLooks& patch) const {
  const double large = std::min(patch.length_arcmin / summed_arcmin, 1.0);
  return shareBelow(static_cast<float>(large) * scoreOf(featuresOf(patch), sorted_.size()));
}

double Oddity::odderThanOthers(std::size_t piece) const {
  const double others = static_cast<double>(sorted_.size()) - 1;
  return shareBelow(scores_[piece]) * static_cast<double>(sorted_.size()) / others;
}

}  // namespace petalproof::reading
