#include "engine/report/png.h"

#include <doctest/doctest.h>

#include <png.h>
#include <cstring>
#include <random>

namespace petalproof {
namespace {

struct ReadBack {
  Image image;
  int srgb_intent = -1;
  png_uint_32 dots_per_metre_x = 0;
  png_uint_32 dots_per_metre_y = 0;
};

struct Source {
  const std::string* bytes;
  std::size_t at = 0;
};

void take(png_structp png, png_bytep to, png_size_t count) {
  auto* source = static_cast<Source*>(png_get_io_ptr(png));
  REQUIRE(source->at + count <= source->bytes->size());
  std::memcpy(to, source->bytes->data() + source->at, count);
  source->at += count;
}

// By libpng's reader, whose own errors end the test program.
ReadBack readBack(const std::string& bytes) {
  png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png_create_info_struct(png);
  Source source{&bytes};
  png_set_read_fn(png, &source, take);
  png_read_png(png, info, PNG_TRANSFORM_IDENTITY, nullptr);
  ReadBack read;
  read.image.width_px = static_cast<int>(png_get_image_width(png, info));
  read.image.height_px = static_cast<int>(png_get_image_height(png, info));
  CHECK(png_get_color_type(png, info) == PNG_COLOR_TYPE_RGB);
  CHECK(png_get_bit_depth(png, info) == 8);
  png_bytepp rows = png_get_rows(png, info);
  for (int y = 0; y < read.image.height_px; ++y) {
    read.image.rgb.insert(read.image.rgb.end(), rows[y], rows[y] + 3 * read.image.width_px);
  }
  png_get_sRGB(png, info, &read.srgb_intent);
  int unit = 0;
  png_get_pHYs(png, info, &read.dots_per_metre_x, &read.dots_per_metre_y, &unit);
  CHECK(unit == PNG_RESOLUTION_METER);
  png_destroy_read_struct(&png, &info, nullptr);
  return read;
}

Image noise(int width, int height, unsigned seed) {
  std::mt19937 random(seed);
  Image image{width, height, {}};
  for (int k = 0; k < width * height * 3; ++k) image.rgb.push_back(static_cast<std::uint8_t>(random()));
  return image;
}

TEST_CASE("a PNG reads back to the same pixels") {
  for (unsigned seed = 0; seed < 20; ++seed) {
    CAPTURE(seed);
    const Image image = noise(1 + static_cast<int>(seed * 7 % 31), 1 + static_cast<int>(seed * 5 % 17), seed);
    const ReadBack read = readBack(report::encodePng(image, 150));
    CHECK(read.image.width_px == image.width_px);
    CHECK(read.image.height_px == image.height_px);
    CHECK(read.image.rgb == image.rgb);
  }
}

TEST_CASE("a PNG says that it is sRGB and how many dots an inch it has") {
  const ReadBack read = readBack(report::encodePng(noise(4, 3, 1), 300));
  CHECK(read.srgb_intent == PNG_sRGB_INTENT_PERCEPTUAL);
  CHECK(read.dots_per_metre_x == 11811);  // 300 / 0.0254
  CHECK(read.dots_per_metre_y == 11811);
}

TEST_CASE("the same picture gives the same bytes") {
  const Image image = noise(40, 30, 3);
  CHECK(report::encodePng(image, 150) == report::encodePng(image, 150));
  CHECK(report::encodePng(image, 150) != report::encodePng(image, 151));
}

}  // namespace
}  // namespace petalproof
