#include "viewer/gl/wall_renderer.h"

#include "viewer/gl/wall_solids.h"

#include <glm/common.hpp>
#include <glm/matrix.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <utility>

namespace petalproof::gl {
namespace {

constexpr int signs_unit = 4;
// How far the room reaches: beside the wall, above it, behind it and to the wall behind the guests. A plain
// room of usual size, set by eye.
constexpr double beside_mm = 2600;
constexpr double above_mm = 700;
constexpr double lowest_ceiling_mm = 3000;
constexpr double back_wall_mm = -900;
constexpr double front_wall_mm = 9000;
constexpr float paper_thin = 1;           // blooms let light through; panels and people, with 0, don't
constexpr double width_of_height = 0.17;  // a standing person's width, for the shadow on the floor; by eye
constexpr float least_height_mm = 10;     // of the wall's relief, so that the light's maps have a range
// Room around the eye beyond the walls and the floor, so that the eye is always within the box.
constexpr glm::vec3 around_eye_low_mm{300, 20, 0};
constexpr glm::vec3 around_eye_high_mm{300};
constexpr float pale_under_heat = 0.7F;   // so that the heat layer's colours stand out
constexpr std::size_t most_shadows = 24;  // of people: the length of `standing` in room.frag

glm::vec3 srgbOf(Colour c) { return glm::vec3(c.red, c.green, c.blue) / 255.0F; }

float highestOf(const scene::Scene& scene) {
  std::vector<float> highest;
  for (const scene::Mesh& mesh : scene.meshes) {
    float most = 0;
    for (const glm::vec3& v : mesh.vertices) most = std::max(most, v.z);
    highest.push_back(most);
  }
  float most = least_height_mm;
  for (const scene::BloomInstance& bloom : scene.blooms)
    most = std::max(most, highest[bloom.mesh] + static_cast<float>(bloom.raised_mm));
  return most;
}

// Clears depths; the colour only without the room, which later fills every pixel that is left.
void clearFor(const Look& look, bool with_room) {
  const glm::vec4 clear(srgbOf(look.paper), 1);
  const float far = 1;
  if (!with_room) glClearBufferfv(GL_COLOR, 0, &clear.x);
  glClearBufferfv(GL_DEPTH, 0, &far);
}

// Head-on views, whose eye is at infinity, show no room.
bool showsRoom(const View& view, const Look& look) { return look.room && view.eye.w > 0; }

void testDepths() {
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LESS);
  glDepthMask(GL_TRUE);
  glDisable(GL_BLEND);
  glDisable(GL_CULL_FACE);
  glDisable(GL_SCISSOR_TEST);
}

}  // namespace

WallRenderer::WallRenderer()
    : paper_({"copies.glsl", "paper.vert"}, {"light.glsl", "paper.frag"}),
      room_({"whole_picture.vert"}, {"light.glsl", "room.frag"}),
      empty_array_(VertexArray::make()),
      sign_data_(Buffer::make()),
      sign_texture_(Texture::make()) {
  setSigns({});
}

Sent WallRenderer::setScene(const scene::Scene& scene) {
  const Solids solids = panelSolids(scene);
  const Sent sent = blooms_.set(scene.meshes, copiesOf(scene));
  const Sent sent_solids = solids_.set(solids.meshes, solids.copies);
  const bool moved = sent.meshes + sent.copies > 0;
  const bool solids_changed = sent_solids.meshes + sent_solids.copies > 0;
  light_is_old_ |= moved || solids_changed;
  if (solids_changed || sent.meshes > 0 || sent.changed.size() != sent.copies) ++wall_changes_;
  moves_ += moved ? 1 : 0;
  moved_at_.resize(scene.blooms.size());
  for (const std::size_t bloom : sent.changed) moved_at_[bloom] = moves_;
  panels_ = scene.panels;
  room_colour_ = scene.colours.room;
  highest_mm_ = highestOf(scene);
  if (scene.blooms.size() != bloom_count_) {
    bloom_count_ = scene.blooms.size();
    setSigns({});
  }
  return sent;
}

void WallRenderer::setPeople(std::span<const plan::Person> people, const camera::WallFrame& wall) {
  const Solids solids = peopleSolids(people, wall);
  const Sent sent = people_.set(solids.meshes, solids.copies);
  const std::vector<glm::vec3> before = std::exchange(standing_, {});
  for (std::size_t k = 0; k < std::min(people.size(), most_shadows); ++k) {
    const glm::vec3 at = solids.copies[k].wallFromMesh[3];
    standing_.emplace_back(at.x, at.z, width_of_height * toMillimetres(people[k].height, wall.units));
  }
  if (standing_ != before || sent.meshes + sent.copies > 0) ++people_changes_;
}

void WallRenderer::setSigns(std::span<const std::uint8_t> signs) {
  ++sign_changes_;
  std::vector<std::uint8_t> by_bloom(signs.begin(), signs.end());
  by_bloom.resize(std::max<std::size_t>(bloom_count_, 1), no_sign);
  glBindBuffer(GL_TEXTURE_BUFFER, sign_data_.name());
  glBufferData(GL_TEXTURE_BUFFER, static_cast<GLsizeiptr>(by_bloom.size()), by_bloom.data(), GL_DYNAMIC_DRAW);
  glBindTexture(GL_TEXTURE_BUFFER, sign_texture_.name());
  glTexBuffer(GL_TEXTURE_BUFFER, GL_R8UI, sign_data_.name());
}

void WallRenderer::updateLight() {
  if (!light_is_old_) return;
  light_.update(panels_, highest_mm_, [this](const Program& program) {
    solids_.draw(program, copies_unit);
    blooms_.draw(program, copies_unit);
  });
  ++light_changes_;
  light_is_old_ = false;
  lit_ = true;
}

void WallRenderer::draw(const View& view, const Look& look, Canvas& canvas, const PassListener& listener) {
  assert(view.width_px == canvas.width_px() && view.height_px == canvas.height_px());
  const auto next = [&listener](const char* pass) {
    if (listener) listener(pass);
  };
  testDepths();
  next("light");
  if (!look.keep_light || !lit_) updateLight();
  next("clear");
  canvas.begin();
  testDepths();
  clearFor(look, showsRoom(view, look));
  drawSolids(view, look, {}, next);
  next("room");
  if (showsRoom(view, look)) drawRoom(view, look);
  next("on top");
  drawOnTop(view, look);
  next("");
}

void WallRenderer::drawOnTop(const View& view, const Look& look) const {
  if (look.heat) heat_.draw(view);
  if (look.marks) marks_.draw(view, look.ink);
  if (look.people > 0) drawPeople(view, look);
}

// Guesses the blooms that will move next: those that moved just now and those that are held.
std::vector<std::uint8_t> WallRenderer::movingNext() const {
  const std::uint64_t now = std::max<std::uint64_t>(moves_, 1);
  std::vector<std::uint8_t> moving;
  for (std::size_t k = 0; k < moved_at_.size(); ++k)
    moving.push_back(moved_at_[k] >= now || (k < held_.size() && held_[k] != 0) ? 1 : 0);
  return moving;
}

// True where the still picture left out every bloom that moved since it was drawn.
bool WallRenderer::standsStill(const StillPicture& still) const {
  for (std::size_t k = 0; k < moved_at_.size(); ++k)
    if (moved_at_[k] > still.moves && still.moving[k] == 0) return false;
  return true;
}

void WallRenderer::drawStill(StillPicture& still) const {
  const View& view = still.key.view;
  const Look& look = still.key.look;
  still.canvas.resize(view.width_px, view.height_px);
  still.canvas.begin();
  testDepths();
  clearFor(look, showsRoom(view, look));
  drawSolids(view, look, {still.moving, true}, [](const char*) {});
  if (showsRoom(view, look)) drawRoom(view, look);
  still.moves = moves_;
  still.drawn = true;
}

void WallRenderer::drawMoving(const View& view, const Look& look, Canvas& canvas, StillPicture& still) {
  if (!lit_) updateLight();
  const StillKey now{view, look, wall_changes_, light_changes_, sign_changes_, people_changes_};
  const bool same = still.drawn && isSameStill(now, still.key);
  if (!same || !standsStill(still)) {
    std::vector<std::uint8_t> moving = movingNext();
    // Blooms left out of the last still picture stay left out.
    if (same)
      for (std::size_t k = 0; k < moving.size(); ++k) moving[k] |= still.moving[k];
    const auto count = static_cast<std::size_t>(std::count(moving.begin(), moving.end(), 1));
    still.drawn = false;
    // A still picture pays where some blooms move, but not most of them.
    if (count == 0 || 2 * count > moving.size()) {
      Look in_motion = look;
      in_motion.keep_light = true;
      return draw(view, in_motion, canvas);
    }
    still.key = now;
    still.moving = std::move(moving);
    drawStill(still);
  }
  canvas.copyFrom(still.canvas);
  canvas.begin();
  testDepths();
  drawBloomsAsPaper(view, look, {still.moving, false});
  drawOnTop(view, look);
}

void WallRenderer::drawRoom(const View& view, const Look& look) const {
  const auto width = static_cast<float>(panels_.width_mm());
  const auto height = static_cast<float>(panels_.height_mm());
  const double ceiling = std::max(panels_.height_mm() + above_mm, lowest_ceiling_mm - panels_.above_floor_mm);
  // The box is enlarged to hold the eye, however far out it is.
  const glm::vec3 low = glm::min(glm::vec3(-beside_mm, -panels_.above_floor_mm, back_wall_mm),
                                 glm::vec3(view.eye) - around_eye_low_mm);
  const glm::vec3 high = glm::max(glm::vec3(width + beside_mm, ceiling, front_wall_mm),
                                  glm::vec3(view.eye) + around_eye_high_mm);
  // whole_picture.vert draws at the farthest depth: the room fills only pixels without anything else.
  glDepthMask(GL_FALSE);
  glDepthFunc(GL_LEQUAL);
  room_.use();
  light_.bind(room_);
  room_.set("wallFromClip", glm::inverse(view.clipFromWall));
  room_.set("eye", view.eye);
  room_.set("roomLow", low);
  room_.set("roomHigh", high);
  room_.set("roomColour", linearFromSrgb(room_colour_));
  const auto count = look.people > 0 ? static_cast<GLsizei>(standing_.size()) : 0;
  room_.set("standingCount", count);
  if (count > 0) glUniform3fv(room_.location("standing"), count, &standing_.front().x);
  room_.set("wallFrame", glm::vec4(0, 0, width, height));
  glBindVertexArray(empty_array_.name());
  glDrawArrays(GL_TRIANGLES, 0, 3);
  glBindVertexArray(0);
  testDepths();
}

const Program& WallRenderer::useForPaper(const View& view, const Look& look) const {
  paper_.use();
  light_.bind(paper_);
  paper_.set("clipFromWall", view.clipFromWall);
  paper_.set("eye", view.eye);
  paper_.set("alpha", 1.0F);
  paper_.set("pale", look.heat ? std::max(look.pale, pale_under_heat) : look.pale);
  paper_.set("chosenColour", srgbOf(look.chosen));
  paper_.set("newColour", srgbOf(look.added));
  glActiveTexture(GL_TEXTURE0 + signs_unit);
  glBindTexture(GL_TEXTURE_BUFFER, sign_texture_.name());
  paper_.set("signs", signs_unit);
  return paper_;
}

void WallRenderer::drawBloomsAsPaper(const View& view, const Look& look, const Part& part) const {
  const Program& paper = useForPaper(view, look);
  paper.set("hasSigns", look.signs ? 1 : 0);
  paper.set("thin", paper_thin);
  blooms_.draw(paper, copies_unit, view, look.coarse_px, part);
}

void WallRenderer::drawSolids(const View& view, const Look& look, const Part& part,
                              const PassListener& next) const {
  next("blooms");
  drawBloomsAsPaper(view, look, part);
  next("panels");
  const Program& paper = paper_;
  paper.set("hasSigns", 0);
  paper.set("thin", 0.0F);
  solids_.draw(paper, copies_unit, view);
  testDepths();
}

// Draws people twice, first only their depths, so that a transparent person's far side doesn't show through.
void WallRenderer::drawPeople(const View& view, const Look& look) const {
  testDepths();
  const Program& paper = useForPaper(view, look);
  paper.set("pale", 0.0F);
  paper.set("hasSigns", 0);
  paper.set("thin", 0.0F);
  paper.set("alpha", std::min(look.people, 1.0F));
  glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
  people_.draw(paper, copies_unit);
  glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
  glDepthFunc(GL_LEQUAL);
  glEnable(GL_BLEND);
  glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
  people_.draw(paper, copies_unit);
  testDepths();
}

}  // namespace petalproof::gl
