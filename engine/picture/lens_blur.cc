#include "engine/picture/lens_blur.h"

#include "engine/base/opponent_colour.h"
#include "engine/base/stopping.h"
#include "engine/picture/disc.h"
#include "engine/picture/row_loops.h"

#include <algorithm>
#include <array>
#include <limits>

namespace petalproof::picture {
namespace {

constexpr double least_blur_px = 0.25;  // nobody sees less
constexpr double layer_step_px = 1.0;   // discs of one layer differ by less, or by this share of the widest
constexpr double layer_step_share = 0.1;
constexpr int most_layers = 12;
constexpr double unlike_px = 2.0;     // discs that differ by more uncover what lies behind
constexpr float least_share = 1e-4F;  // of a pixel: less of a part is rounding, and has no depth
constexpr int block_px = 128;  // worked on at a time: wide enough for what lies around it to cost little
constexpr int channels = 4;    // coverage, then the three planes

struct Range {
  double least = std::numeric_limits<double>::infinity();
  double most = -std::numeric_limits<double>::infinity();
  void add(double value) {
    least = std::min(least, value);
    most = std::max(most, value);
  }
};

bool hasFront(const WorkingPicture& sharp, std::size_t k) { return sharp.bare_share[k] < 1 - least_share; }

// Inverse distances of a row's parts.
Range inverseRange(const WorkingPicture& sharp, const InversePlane& board, int y) {
  Range range;
  for (int x = 0; x < sharp.size.width_px; ++x) {
    const std::size_t k = sharp.offset(x, y);
    if (hasFront(sharp, k)) range.add(static_cast<double>(sharp.front_inverse_mm[k]));
    if (sharp.bare_share[k] > 0) range.add(board.at(x, y));
  }
  return range;
}

// Discs of the picture's parts, signed, from the nearest.
Range discRange(const WorkingPicture& sharp, const InversePlane& board, const LensBlur& lens,
                const Pool& pool) {
  std::vector<Range> rows(static_cast<std::size_t>(sharp.size.height_px));
  pool.forEach(rows.size(),
               [&](std::size_t row) { rows[row] = inverseRange(sharp, board, static_cast<int>(row)); });
  Range range;
  for (const Range& row : rows) {
    if (row.least > row.most) continue;
    range.add(lens.signedDiameter(row.least));
    range.add(lens.signedDiameter(row.most));
  }
  return range;
}

// Layers of about equal blur, the nearest first.
struct Layers {
  double nearest = 0;
  double step = 1;
  std::vector<Disc> discs;
  double widest_px = 0;
  bool unlike = false;

  int count() const { return static_cast<int>(discs.size()); }
  int of(double signed_diameter) const {
    return static_cast<int>(std::clamp((signed_diameter - nearest) / step, 0.0, count() - 0.5));
  }
};

Layers layersOf(const Range& range) {
  Layers layers;
  const double widest = std::max(std::abs(range.least), std::abs(range.most));
  const double extent = range.most - range.least;
  const double step = std::max(layer_step_px, layer_step_share * widest);
  const int count = std::clamp(static_cast<int>(std::ceil(extent / step)), 1, most_layers);
  layers.nearest = range.least;
  layers.step = std::max(extent / count, 1e-9);
  double narrowest = widest;
  for (int k = 0; k < count; ++k) {
    const double diameter = std::abs(range.least + (k + 0.5) * layers.step);
    layers.discs.emplace_back(diameter);
    layers.widest_px = std::max(layers.widest_px, diameter);
    narrowest = std::min(narrowest, diameter);
  }
  layers.unlike = layers.widest_px - narrowest > unlike_px;
  return layers;
}

struct Source {
  const WorkingPicture& sharp;
  const InversePlane& board;
  const LensBlur& lens;
  Layers layers;
  int margin = 0;
};

using Channels = std::array<float, channels>;

// One layer of a tile and what lies around it: its channels as running sums of rows, then blurred.
class LayerTile {
 public:
  void reset(int width, int height, int margin) {
    width_ = width;
    height_ = height;
    margin_ = margin;
    around_width_ = width + 2 * margin;
    used_ = false;
  }
  bool used() const { return used_; }

  void add(int x, int y, const Channels& part) {
    if (!used_) clear();
    used_ = true;
    float* to = values_.data() + (static_cast<std::ptrdiff_t>(y) * channels) * around_width_ + x;
    for (int c = 0; c < channels; ++c) to[c * around_width_] += part[static_cast<std::size_t>(c)];
  }

  // Row-major by channel, the tile's pixels only.
  void blurInto(const Disc& disc, std::vector<float>& out) {
    out.assign(static_cast<std::size_t>(channels) * pixels(), 0);
    sums_.resize(static_cast<std::size_t>(around_width_) + 1);
    for (int y = margin_ - disc.reach(); y < margin_ + height_ + disc.reach(); ++y) {
      for (int c = 0; c < channels; ++c) spreadRow(disc, y, c, out);
    }
  }

 private:
  std::size_t pixels() const { return static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_); }

  void clear() {
    values_.assign(static_cast<std::size_t>(channels) * static_cast<std::size_t>(around_width_) *
                       static_cast<std::size_t>(height_ + 2 * margin_),
                   0);
  }

  // What row `y` of the surroundings gives to the rows within the disc's reach.
  void spreadRow(const Disc& disc, int y, int channel, std::vector<float>& out) {
    const float* values =
        values_.data() + (static_cast<std::ptrdiff_t>(y) * channels + channel) * around_width_;
    runningSums(values, 1, around_width_, sums_.data());
    const int first = std::max(0, y - margin_ - disc.reach());
    const int last = std::min(height_ - 1, y - margin_ + disc.reach());
    for (int row = first; row <= last; ++row) {
      float* to = out.data() + static_cast<std::size_t>(channel) * pixels() +
                  static_cast<std::size_t>(row) * static_cast<std::size_t>(width_);
      addChord(sums_.data(), 1, disc.halfChord(row + margin_ - y), margin_, 1 / disc.area(), to, width_);
    }
  }

  int width_ = 0;
  int height_ = 0;
  int margin_ = 0;
  int around_width_ = 0;
  bool used_ = false;
  std::vector<float> values_;
  std::vector<float> sums_;
};

struct TilePlace {
  int x0 = 0;
  int y0 = 0;
  int width = 0;
  int height = 0;
};

Channels channelsOf(float coverage, const glm::vec3& light) {
  const glm::vec3 opponent = coverage * opponentFromLinear(light);
  return {coverage, opponent.x, opponent.y, opponent.z};
}

// One tile at a time: sorts what is around it into layers, blurs each, and lays them over one another.
class TileBlur {
 public:
  explicit TileBlur(const Source& source)
      : source_(source),
        layers_(static_cast<std::size_t>(source.layers.count())),
        blurred_(layers_.size()),
        wide_(layers_.size()) {}

  void run(const TilePlace& place, BlurredPicture& out) {
    place_ = place;
    gather();
    blurLayers();
    for (int y = 0; y < place.height; ++y) {
      if (!source_.layers.unlike) writeRow(y, out);
      for (int x = 0; source_.layers.unlike && x < place.width; ++x) write(x, y, out);
    }
  }

 private:
  void gather() {
    const int margin = source_.margin;
    const camera::WorkingSize& size = source_.sharp.size;
    for (LayerTile& layer : layers_) layer.reset(place_.width, place_.height, margin);
    for (int y = 0; y < place_.height + 2 * margin; ++y) {
      const int from_y = std::clamp(place_.y0 + y - margin, 0, size.height_px - 1);
      for (int x = 0; x < place_.width + 2 * margin; ++x)
        sortPixel(std::clamp(place_.x0 + x - margin, 0, size.width_px - 1), from_y, x, y);
    }
  }

  void sortPixel(int from_x, int from_y, int x, int y) {
    const WorkingPicture& sharp = source_.sharp;
    const std::size_t k = sharp.offset(from_x, from_y);
    const float bare = sharp.bare_share[k];
    if (hasFront(sharp, k))
      layerAt(sharp.front_inverse_mm[k]).add(x, y, channelsOf(1 - bare, sharp.front[k]));
    if (bare > 0) layerAt(source_.board.at(from_x, from_y)).add(x, y, channelsOf(bare, sharp.bare[k]));
  }

  LayerTile& layerAt(double inverse_mm) {
    return layers_[static_cast<std::size_t>(source_.layers.of(source_.lens.signedDiameter(inverse_mm)))];
  }

  void blurLayers() {
    const Disc widest(source_.layers.widest_px);
    for (std::size_t k = 0; k < layers_.size(); ++k) {
      if (!layers_[k].used()) continue;
      layers_[k].blurInto(source_.layers.discs[k], blurred_[k]);
      if (source_.layers.unlike) layers_[k].blurInto(widest, wide_[k]);
    }
  }

  Channels at(const std::vector<float>& values, int x, int y) const {
    const std::size_t pixels =
        static_cast<std::size_t>(place_.width) * static_cast<std::size_t>(place_.height);
    const std::size_t pixel =
        static_cast<std::size_t>(y) * static_cast<std::size_t>(place_.width) + static_cast<std::size_t>(x);
    Channels found{};
    for (std::size_t c = 0; c < found.size(); ++c) found[c] = values[c * pixels + pixel];
    return found;
  }

  // Nearest first, each as far as what is nearer leaves room.
  void write(int x, int y, BlurredPicture& out) const {
    Channels sum{};
    std::size_t first = layers_.size();
    for (std::size_t k = 0; k < layers_.size() && sum[0] < 1; ++k) {
      if (!layers_[k].used()) continue;
      const Channels layer = at(blurred_[k], x, y);
      if (layer[0] <= 0) continue;
      first = std::min(first, k);
      addUpTo(layer, 1 - sum[0], sum);
    }
    if (source_.layers.unlike && sum[0] < 1) addBehind(first, x, y, sum);
    store(sum, x, y, out);
  }

  // As write(), for layers that all blur alike.
  void writeRow(int y, BlurredPicture& out) {
    const std::size_t pixels =
        static_cast<std::size_t>(place_.width) * static_cast<std::size_t>(place_.height);
    const std::ptrdiff_t from = static_cast<std::ptrdiff_t>(y) * place_.width;
    row_.assign(static_cast<std::size_t>(channels * place_.width), 0);
    for (std::size_t k = 0; k < layers_.size(); ++k)
      if (layers_[k].used())
        layUnder(blurred_[k].data() + from, static_cast<std::ptrdiff_t>(pixels), channels, row_.data(),
                 place_.width);
    const std::size_t to = out.as_is.offset(place_.x0, place_.y0 + y);
    for (std::size_t p = 0; p < 3; ++p) {
      divideBy(row_.data(), row_.data() + (1 + p) * static_cast<std::size_t>(place_.width),
               out.as_is.plane[p].data() + to, place_.width);
    }
  }

  static void addUpTo(const Channels& layer, float room, Channels& sum) {
    const float share = layer[0] > room ? room / layer[0] : 1.0F;
    for (std::size_t c = 0; c < layer.size(); ++c) sum[c] += share * layer[c];
  }

  // Where a nearer sheet's blur uncovers what it hides: the farther ones go on there as they are around.
  void addBehind(std::size_t first, int x, int y, Channels& sum) const {
    Channels behind{};
    for (std::size_t k = first + 1; k < layers_.size(); ++k) {
      if (!layers_[k].used()) continue;
      const Channels layer = at(wide_[k], x, y);
      for (std::size_t c = 0; c < behind.size(); ++c) behind[c] += layer[c];
    }
    if (behind[0] <= 1e-6F) return;
    const float share = (1 - sum[0]) / behind[0];
    for (std::size_t c = 0; c < behind.size(); ++c) sum[c] += share * behind[c];
  }

  void store(const Channels& sum, int x, int y, BlurredPicture& out) const {
    const float scale = sum[0] > 0 ? 1 / sum[0] : 0.0F;
    const std::size_t k = out.as_is.offset(place_.x0 + x, place_.y0 + y);
    for (std::size_t p = 0; p < 3; ++p) {
      out.as_is.plane[p][k] = scale * sum[1 + p];
    }
  }

  const Source& source_;
  std::vector<LayerTile> layers_;
  std::vector<std::vector<float>> blurred_;
  std::vector<std::vector<float>> wide_;
  std::vector<float> row_;
  TilePlace place_;
};

TilePlace placeOf(int column, int row, int side, const camera::WorkingSize& size) {
  const int x0 = column * side;
  const int y0 = row * side;
  return {x0, y0, std::min(side, size.width_px - x0), std::min(side, size.height_px - y0)};
}

}  // namespace

void blur(const WorkingPicture& sharp, const InversePlane& board, const LensBlur& lens, const Pool& pool,
          BlurredPicture& out, const std::stop_token& stop) {
  const camera::WorkingSize& size = sharp.size;
  Source source{sharp, board, lens, layersOf(discRange(sharp, board, lens, pool)), 0};
  if (source.layers.widest_px < least_blur_px) source.layers = layersOf({0, 0});
  for (const Disc& disc : source.layers.discs) source.margin = std::max(source.margin, disc.reach() + 1);
  out.widest_px = source.layers.widest_px;
  const int rows = (size.height_px + block_px - 1) / block_px;
  const int columns = (size.width_px + block_px - 1) / block_px;
  out.as_is.resize(size.width_px, size.height_px, pool);
  pool.forEach(static_cast<std::size_t>(rows), [&](std::size_t row) {
    TileBlur tile(source);
    for (int column = 0; column < columns; ++column) {
      throwIfStopAsked(stop);
      tile.run(placeOf(column, static_cast<int>(row), block_px, size), out);
    }
  });
}

}  // namespace petalproof::picture
