#pragma once
// Draws lines and letters on a picture. Only this header's source knows cairo and Pango. Drawings share
// nothing, so several threads may draw at once, each on its own.

#include "engine/base/colour.h"
#include "engine/base/image.h"

#include <glm/vec2.hpp>

#include <memory>
#include <span>
#include <string>
#include <vector>

namespace petalproof::report {

struct PixelRect {
  double left = 0;
  double top = 0;
  double width = 0;
  double height = 0;
  double right() const { return left + width; }
  double bottom() const { return top + height; }
  glm::dvec2 middle() const { return {left + width / 2, top + height / 2}; }
};

bool overlap(const PixelRect& a, const PixelRect& b);

enum class Face { sans, sansBold, serif };
enum class Align { left, middle, right };

struct TextStyle {
  double size_px = 20;
  Face face = Face::sans;
  Colour colour{40, 40, 44};
  Align align = Align::left;
  double wrap_px = 0;  // width at which lines are broken; 0: not at all
};

struct Stroke {
  double width_px = 1;
  Colour colour;
  double opacity = 1;
  std::vector<double> dashes;  // on, off, ... in pixels; empty: a solid line
};

class Drawing {
 public:
  Drawing(int width_px, int height_px, Colour paper);
  ~Drawing();
  Drawing(Drawing&&) noexcept;
  Drawing& operator=(Drawing&&) noexcept;

  void place(const Image& image, int left, int top);
  void line(std::span<const glm::dvec2> points, const Stroke& stroke);
  void fill(const PixelRect& rect, Colour colour, double opacity = 1, double corner_px = 0);
  void frame(const PixelRect& rect, const Stroke& stroke, double corner_px = 0);
  // Limits all later drawing to this part; places count from the part's upper left corner.
  void startPart(const PixelRect& rect);

  // The place that a text takes up when its upper corner (by its alignment) is put at `at`.
  PixelRect extentOf(const std::string& text, const TextStyle& style, glm::dvec2 at = {0, 0}) const;
  PixelRect text(const std::string& text, const TextStyle& style, glm::dvec2 at);

  Image image() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::report
