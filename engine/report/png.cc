#include "engine/report/png.h"

#include <png.h>

#include <cassert>
#include <cmath>
#include <memory>
#include <stdexcept>

namespace petalproof::report {
namespace {

void append(png_structp png, png_bytep bytes, png_size_t count) {
  static_cast<std::string*>(png_get_io_ptr(png))->append(reinterpret_cast<const char*>(bytes), count);
}

void flushNothing(png_structp) {}

// libpng calls this and must not get control back; an exception leaves it cleanly since libpng is only
// ever entered from encodePng.
[[noreturn]] void fail(png_structp, png_const_charp message) { throw std::runtime_error(message); }

void stayQuiet(png_structp, png_const_charp) {}

// The two structures that libpng makes and takes back together.
class PngWriter {
 public:
  PngWriter()
      : png_(png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, fail, stayQuiet)),
        info_(png_create_info_struct(png_)) {}
  ~PngWriter() { png_destroy_write_struct(&png_, &info_); }
  PngWriter(const PngWriter&) = delete;
  PngWriter& operator=(const PngWriter&) = delete;
  png_structp png() const { return png_; }
  png_infop info() const { return info_; }

 private:
  png_structp png_;
  png_infop info_;
};

void writeHeader(const PngWriter& writer, const Image& image, double dots_per_inch) {
  png_set_IHDR(writer.png(), writer.info(), static_cast<png_uint_32>(image.width_px),
               static_cast<png_uint_32>(image.height_px), 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
               PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_set_sRGB(writer.png(), writer.info(), PNG_sRGB_INTENT_PERCEPTUAL);
  const auto dots_per_metre = static_cast<png_uint_32>(std::lround(dots_per_inch / 0.0254));
  png_set_pHYs(writer.png(), writer.info(), dots_per_metre, dots_per_metre, PNG_RESOLUTION_METER);
  png_write_info(writer.png(), writer.info());
}

}  // namespace

std::string encodePng(const Image& image, double dots_per_inch) {
  assert(image.width_px > 0 && image.height_px > 0);
  const PngWriter writer;
  std::string bytes;
  png_set_write_fn(writer.png(), &bytes, append, flushNothing);
  writeHeader(writer, image, dots_per_inch);
  const std::size_t stride = static_cast<std::size_t>(image.width_px) * 3;
  for (std::size_t y = 0; y < static_cast<std::size_t>(image.height_px); ++y) {
    png_write_row(writer.png(), image.rgb.data() + y * stride);
  }
  png_write_end(writer.png(), writer.info());
  return bytes;
}

}  // namespace petalproof::report
