#include "engine/report/internal/drawing.h"

#include "engine/base/units.h"

#include <cairo.h>
#include <pango/pangocairo.h>

#include <cstdint>
#include <cstring>
#include <utility>

namespace petalproof::report {
namespace {

template <class T, void (*release)(T*)>
struct Release {
  void operator()(T* thing) const { release(thing); }
};
using Surface = std::unique_ptr<cairo_surface_t, Release<cairo_surface_t, cairo_surface_destroy>>;
using CairoContext = std::unique_ptr<cairo_t, Release<cairo_t, cairo_destroy>>;
using FontOptions =
    std::unique_ptr<cairo_font_options_t, Release<cairo_font_options_t, cairo_font_options_destroy>>;
using FontDescription =
    std::unique_ptr<PangoFontDescription, Release<PangoFontDescription, pango_font_description_free>>;

struct ReleaseObject {
  void operator()(void* object) const { g_object_unref(object); }
};
template <class T>
using Object = std::unique_ptr<T, ReleaseObject>;

const char* familyOf(Face face) { return face == Face::serif ? "DejaVu Serif" : "DejaVu Sans"; }

void setColour(cairo_t* cairo, Colour colour, double opacity) {
  cairo_set_source_rgba(cairo, colour.red / 255.0, colour.green / 255.0, colour.blue / 255.0, opacity);
}

void setStroke(cairo_t* cairo, const Stroke& stroke) {
  setColour(cairo, stroke.colour, stroke.opacity);
  cairo_set_line_width(cairo, stroke.width_px);
  cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cairo, stroke.dashes.empty() ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
  cairo_set_dash(cairo, stroke.dashes.data(), static_cast<int>(stroke.dashes.size()), 0);
}

void roundedPath(cairo_t* cairo, const PixelRect& r, double corner) {
  cairo_new_sub_path(cairo);
  cairo_arc(cairo, r.right() - corner, r.top + corner, corner, -pi / 2, 0);
  cairo_arc(cairo, r.right() - corner, r.bottom() - corner, corner, 0, pi / 2);
  cairo_arc(cairo, r.left + corner, r.bottom() - corner, corner, pi / 2, pi);
  cairo_arc(cairo, r.left + corner, r.top + corner, corner, pi, 3 * pi / 2);
  cairo_close_path(cairo);
}

// No hinting: letters keep their shape and place at every size.
FontOptions plainFontOptions() {
  FontOptions options(cairo_font_options_create());
  cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  return options;
}

PangoAlignment pangoAlign(Align align) {
  switch (align) {
    case Align::left: return PANGO_ALIGN_LEFT;
    case Align::middle: return PANGO_ALIGN_CENTER;
    case Align::right: return PANGO_ALIGN_RIGHT;
  }
  return PANGO_ALIGN_LEFT;
}

double shiftOf(Align align, double width) {
  return align == Align::left ? 0.0 : align == Align::middle ? width / 2 : width;
}

}  // namespace

bool overlap(const PixelRect& a, const PixelRect& b) {
  return a.left < b.right() && b.left < a.right() && a.top < b.bottom() && b.top < a.bottom();
}

struct Drawing::State {
  Surface surface;
  CairoContext cairo;
  Object<PangoFontMap> fonts;
  Object<PangoContext> pango;

  Object<PangoLayout> layoutOf(const std::string& text, const TextStyle& style) const {
    Object<PangoLayout> layout(pango_layout_new(pango.get()));
    const FontDescription font(pango_font_description_new());
    pango_font_description_set_family(font.get(), familyOf(style.face));
    pango_font_description_set_absolute_size(font.get(), style.size_px * PANGO_SCALE);
    if (style.face == Face::sansBold) pango_font_description_set_weight(font.get(), PANGO_WEIGHT_BOLD);
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_alignment(layout.get(), pangoAlign(style.align));
    if (style.wrap_px > 0) {
      pango_layout_set_width(layout.get(), static_cast<int>(style.wrap_px * PANGO_SCALE));
      pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    }
    pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
    return layout;
  }
};

Drawing::Drawing(int width_px, int height_px, Colour paper) : state_(std::make_unique<State>()) {
  state_->surface.reset(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px));
  state_->cairo.reset(cairo_create(state_->surface.get()));
  state_->fonts.reset(pango_cairo_font_map_new());
  state_->pango.reset(pango_font_map_create_context(state_->fonts.get()));
  pango_cairo_context_set_font_options(state_->pango.get(), plainFontOptions().get());
  pango_context_set_round_glyph_positions(state_->pango.get(), FALSE);
  setColour(state_->cairo.get(), paper, 1);
  cairo_paint(state_->cairo.get());
}

Drawing::~Drawing() = default;
Drawing::Drawing(Drawing&&) noexcept = default;
Drawing& Drawing::operator=(Drawing&&) noexcept = default;

void Drawing::place(const Image& image, int left, int top) {
  Surface source(cairo_image_surface_create(CAIRO_FORMAT_RGB24, image.width_px, image.height_px));
  unsigned char* rows = cairo_image_surface_get_data(source.get());
  const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(source.get()));
  const auto width = static_cast<std::size_t>(image.width_px);
  for (std::size_t y = 0; y < static_cast<std::size_t>(image.height_px); ++y) {
    for (std::size_t x = 0; x < width; ++x) {
      const std::uint8_t* from = &image.rgb[3 * (y * width + x)];
      const std::uint32_t pixel =
          static_cast<std::uint32_t>(from[0]) << 16 | static_cast<std::uint32_t>(from[1]) << 8 | from[2];
      std::memcpy(rows + y * stride + 4 * x, &pixel, sizeof pixel);
    }
  }
  cairo_surface_mark_dirty(source.get());
  cairo_set_source_surface(state_->cairo.get(), source.get(), left, top);
  cairo_paint(state_->cairo.get());
}

void Drawing::line(std::span<const glm::dvec2> points, const Stroke& stroke) {
  if (points.empty()) return;
  cairo_t* cairo = state_->cairo.get();
  cairo_new_path(cairo);
  for (const glm::dvec2& p : points) cairo_line_to(cairo, p.x, p.y);
  if (points.size() > 2 && points.front() == points.back()) cairo_close_path(cairo);
  setStroke(cairo, stroke);
  cairo_stroke(cairo);
}

void Drawing::fill(const PixelRect& rect, Colour colour, double opacity, double corner_px) {
  roundedPath(state_->cairo.get(), rect, corner_px);
  setColour(state_->cairo.get(), colour, opacity);
  cairo_fill(state_->cairo.get());
}

void Drawing::frame(const PixelRect& rect, const Stroke& stroke, double corner_px) {
  roundedPath(state_->cairo.get(), rect, corner_px);
  setStroke(state_->cairo.get(), stroke);
  cairo_stroke(state_->cairo.get());
}

void Drawing::startPart(const PixelRect& rect) {
  cairo_t* cairo = state_->cairo.get();
  cairo_new_path(cairo);
  cairo_rectangle(cairo, rect.left, rect.top, rect.width, rect.height);
  cairo_clip(cairo);
  cairo_translate(cairo, rect.left, rect.top);
}

PixelRect Drawing::extentOf(const std::string& text, const TextStyle& style, glm::dvec2 at) const {
  const Object<PangoLayout> layout = state_->layoutOf(text, style);
  PangoRectangle extent;
  pango_layout_get_extents(layout.get(), nullptr, &extent);
  const double width = static_cast<double>(extent.width) / PANGO_SCALE;
  return {at.x - shiftOf(style.align, width), at.y, width, static_cast<double>(extent.height) / PANGO_SCALE};
}

PixelRect Drawing::text(const std::string& text, const TextStyle& style, glm::dvec2 at) {
  const Object<PangoLayout> layout = state_->layoutOf(text, style);
  cairo_t* cairo = state_->cairo.get();
  const double box = style.wrap_px > 0 ? style.wrap_px : extentOf(text, style).width;
  setColour(cairo, style.colour, 1);
  cairo_move_to(cairo, at.x - shiftOf(style.align, box), at.y);
  pango_cairo_show_layout(cairo, layout.get());
  return extentOf(text, style, at);
}

Image Drawing::image() const {
  cairo_surface_t* surface = state_->surface.get();
  cairo_surface_flush(surface);
  Image image{cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface), {}};
  const unsigned char* rows = cairo_image_surface_get_data(surface);
  const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface));
  image.rgb.reserve(3 * static_cast<std::size_t>(image.width_px) * static_cast<std::size_t>(image.height_px));
  for (std::size_t y = 0; y < static_cast<std::size_t>(image.height_px); ++y) {
    for (std::size_t x = 0; x < static_cast<std::size_t>(image.width_px); ++x) {
      std::uint32_t pixel = 0;
      std::memcpy(&pixel, rows + y * stride + 4 * x, sizeof pixel);
      image.rgb.push_back(static_cast<std::uint8_t>(pixel >> 16));
      image.rgb.push_back(static_cast<std::uint8_t>(pixel >> 8));
      image.rgb.push_back(static_cast<std::uint8_t>(pixel));
    }
  }
  return image;
}

}  // namespace petalproof::report
