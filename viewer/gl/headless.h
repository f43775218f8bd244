#pragma once
// OpenGL without a display.

#include <memory>
#include <optional>
#include <string>

namespace petalproof::gl {

// Which renderer: on the processor (Mesa, the same everywhere), or a graphics card where there is one.
enum class HeadlessDevice { processor, card };

// A current context of OpenGL 3.3 core until its end.
class HeadlessContext {
 public:
  // Nothing where there is no such OpenGL.
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
