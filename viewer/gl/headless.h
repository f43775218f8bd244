#pragma once
// A context of OpenGL without a display. Commands and tests use it to draw pictures without a window.

#include <memory>
#include <optional>
#include <string>

namespace petalproof::gl {

// The renderer: Mesa's on the processor, the same everywhere, or the graphics card.
enum class HeadlessDevice { processor, card };

// A context of OpenGL 3.3 core, current throughout its life.
class HeadlessContext {
 public:
  // Nothing where the machine has no such OpenGL.
  static std::optional<HeadlessContext> make(HeadlessDevice device, bool debug = false);
  ~HeadlessContext();
  HeadlessContext(HeadlessContext&&) noexcept;
  HeadlessContext& operator=(HeadlessContext&&) noexcept;

  std::string renderer() const;  // in the driver's words

 private:
  struct State;
  explicit HeadlessContext(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::gl
