#include "viewer/gl/id_picture.h"

#include <array>
#include <bit>
#include <cstddef>
#include <stdexcept>

namespace petalproof::gl {
namespace {

static_assert(sizeof(visibility::PixelId) == sizeof(std::uint32_t));

constexpr int has_panel_unit = 4;  // a texture unit that no other texture of these programs has

void storage(const Renderbuffer& buffer, GLenum format, GLenum place, int width_px, int height_px) {
  glBindRenderbuffer(GL_RENDERBUFFER, buffer.name());
  glRenderbufferStorage(GL_RENDERBUFFER, format, width_px, height_px);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, place, GL_RENDERBUFFER, buffer.name());
}

}  // namespace

IdPicture::IdPicture()
    : bloom_program_({"copies.glsl", "id.vert"}, {"id.frag"}),
      plane_program_({"board_plane.vert"}, {"board_plane_id.frag"}),
      empty_array_(VertexArray::make()),
      has_panel_data_(Buffer::make()),
      has_panel_(Texture::make()),
      target_(Framebuffer::make()),
      ids_(Renderbuffer::make()),
      depths_(Renderbuffer::make()) {}

void IdPicture::resize(int width_px, int height_px) {
  if (width_px == width_px_ && height_px == height_px_) return;
  glBindFramebuffer(GL_FRAMEBUFFER, target_.name());
  storage(ids_, GL_R32UI, GL_COLOR_ATTACHMENT0, width_px, height_px);
  storage(depths_, GL_DEPTH_COMPONENT32F, GL_DEPTH_ATTACHMENT, width_px, height_px);
  if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
    throw std::runtime_error("OpenGL can't draw ids of that size");
  width_px_ = width_px;
  height_px_ = height_px;
}

void IdPicture::draw(const WallRenderer& wall, const View& view) {
  const std::array<GLuint, 4> nothing{};
  const float far = 1;
  resize(view.width_px, view.height_px);
  glBindFramebuffer(GL_FRAMEBUFFER, target_.name());
  glViewport(0, 0, width_px_, height_px_);
  glDisable(GL_BLEND);
  glDisable(GL_SCISSOR_TEST);
  glClearBufferuiv(GL_COLOR, 0, nothing.data());
  drawBoardPlane(wall.panels(), view);
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LESS);
  glDepthMask(GL_TRUE);
  glClearBufferfv(GL_DEPTH, 0, &far);
  bloom_program_.use();
  bloom_program_.set("clipFromWall", view.clipFromWall);
  glUniform1ui(bloom_program_.location("kind"), static_cast<GLuint>(visibility::Sees::bloom));
  wall.drawBlooms(bloom_program_, view);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

// Drawn first, without depths, so that blooms cover it wherever they are, as in the engine.
void IdPicture::drawBoardPlane(const scene::PanelGrid& panels, const View& view) {
  glDisable(GL_DEPTH_TEST);
  const auto& has_panel = panels.has_panel.cells();
  glBindBuffer(GL_TEXTURE_BUFFER, has_panel_data_.name());
  glBufferData(GL_TEXTURE_BUFFER, static_cast<GLsizeiptr>(has_panel.size()), has_panel.data(),
               GL_STATIC_DRAW);
  glActiveTexture(GL_TEXTURE0 + has_panel_unit);
  glBindTexture(GL_TEXTURE_BUFFER, has_panel_.name());
  glTexBuffer(GL_TEXTURE_BUFFER, GL_R8UI, has_panel_data_.name());
  plane_program_.use();
  plane_program_.set("clipFromWall", view.clipFromWall);
  const glm::vec2 outline(panels.width_mm(), panels.height_mm());
  plane_program_.set("frame", glm::vec4(0, 0, outline.x, outline.y));
  plane_program_.set("panel", glm::vec2(panels.panel_width_mm, panels.panel_height_mm));
  plane_program_.set("seam", static_cast<float>(panels.seam_mm));
  plane_program_.set("cells", glm::vec2(panels.columns, panels.rows));
  plane_program_.set("hasPanel", has_panel_unit);
  glBindVertexArray(empty_array_.name());
  glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
  glBindVertexArray(0);
}

std::vector<visibility::PixelId> IdPicture::ids() const {
  const auto columns = static_cast<std::size_t>(width_px_);
  const auto rows = static_cast<std::size_t>(height_px_);
  std::vector<std::uint32_t> from_below(columns * rows);
  glBindFramebuffer(GL_FRAMEBUFFER, target_.name());
  glPixelStorei(GL_PACK_ALIGNMENT, 4);
  glReadPixels(0, 0, width_px_, height_px_, GL_RED_INTEGER, GL_UNSIGNED_INT, from_below.data());
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  std::vector<visibility::PixelId> ids;
  ids.reserve(from_below.size());
  for (std::size_t row = rows; row-- > 0;)
    for (std::size_t k = row * columns; k < (row + 1) * columns; ++k)
      ids.push_back(std::bit_cast<visibility::PixelId>(from_below[k]));
  return ids;
}

}  // namespace petalproof::gl
