#include "tests/window/golden.h"

#include "engine/base/file.h"
#include "engine/report/png.h"

#include <doctest/doctest.h>
#include <png.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>

namespace petalproof::window_test {
namespace fs = std::filesystem;
namespace {

Image readPng(const fs::path& file) {
  png_image png{};
  png.version = PNG_IMAGE_VERSION;
  if (png_image_begin_read_from_file(&png, file.c_str()) == 0) return {};
  png.format = PNG_FORMAT_RGB;
  Image image{static_cast<int>(png.width), static_cast<int>(png.height), {}};
  image.rgb.resize(PNG_IMAGE_SIZE(png));
  if (png_image_finish_read(&png, nullptr, image.rgb.data(), 0, nullptr) == 0) return {};
  return image;
}

void writePng(const fs::path& file, const Image& image) {
  constexpr double dots_per_inch = 96;
  const auto wrong = writeFile(file, report::encodePng(image, dots_per_inch), Existing::replace);
  if (wrong) FAIL(*wrong);
}

}  // namespace

Image shrunk(const Image& image, int by) {
  Image small{image.width_px / by, image.height_px / by, {}};
  for (int y = 0; y < small.height_px; ++y)
    for (int x = 0; x < small.width_px; ++x)
      for (int channel = 0; channel < 3; ++channel) {
        int sum = 0;
        for (int j = 0; j < by; ++j)
          for (int i = 0; i < by; ++i)
            sum += image.rgb[static_cast<std::size_t>(3 * ((y * by + j) * image.width_px + x * by + i) +
                                                      channel)];
        small.rgb.push_back(static_cast<std::uint8_t>((sum + by * by / 2) / (by * by)));
      }
  return small;
}

Difference differenceOf(const Image& a, const Image& b) {
  if (a.width_px != b.width_px || a.height_px != b.height_px || a.rgb.empty()) return {255, 1};
  constexpr int far = 48;
  Difference difference;
  for (std::size_t k = 0; k < a.rgb.size(); k += 3) {
    int most = 0;
    for (std::size_t channel = k; channel < k + 3; ++channel) {
      const int off = std::abs(static_cast<int>(a.rgb[channel]) - static_cast<int>(b.rgb[channel]));
      difference.mean += off;
      most = std::max(most, off);
    }
    if (most > far) difference.share += 1;
  }
  difference.mean /= static_cast<double>(a.rgb.size());
  difference.share /= static_cast<double>(a.rgb.size()) / 3;
  return difference;
}

void checkGolden(const Image& picture, const std::string& name) {
  const fs::path golden = fs::path(PETALPROOF_SOURCE_DIR) / "tests/window/golden" / (name + ".png");
  if (std::getenv("PETALPROOF_RENEW") != nullptr) return writePng(golden, picture);
  const Difference difference = differenceOf(picture, readPng(golden));
  const fs::path left = fs::temp_directory_path() / ("petalproof-" + name + ".png");
  INFO(golden.string(), " beside ", left.string());
  // Letters and edges of petals fall a little otherwise with another driver or font.
  CHECK(difference.mean < 2);
  CHECK(difference.share < 0.01);
  if (difference.mean >= 2 || difference.share >= 0.01) writePng(left, picture);
}

}  // namespace petalproof::window_test
