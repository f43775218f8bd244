#pragma once
// The same picture by OpenGL without a display: on a machine without a graphics card that is Mesa's
// software rasteriser.

#include "engine/visibility/rasteriser.h"

#include <memory>
#include <optional>
#include <span>
#include <string>

namespace petalproof::bench {

// Two ways to ids: into a framebuffer of integers, or as the bytes of a colour. Which is faster depends on
// the driver.
enum class GlRecipe { integers, colours };

// Draws ids into a framebuffer with depth and reads them back.
class GlReference {
 public:
  // Nothing where no OpenGL 3.3 core context without a window is to be had.
  static std::optional<GlReference> make();
  ~GlReference();
  GlReference(GlReference&&) noexcept;
  GlReference& operator=(GlReference&&) noexcept;

  std::string renderer() const;
  void load(std::span<const visibility::TriangleBatch> batches, const visibility::RasterView& view);
  void use(GlRecipe recipe);             // after load()
  void draw(visibility::IdBuffer& out);  // ids only

 private:
  struct State;
  explicit GlReference(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::bench
