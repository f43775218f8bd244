#pragma once
// Draws the wall for people to look at. No finding comes from here: what a shot shows is known by the engine.
// Needs a current context of OpenGL 3.3 core, the one it was made in, for everything.

#include "viewer/gl/canvas.h"
#include "viewer/gl/heat_layer.h"
#include "viewer/gl/instanced_meshes.h"
#include "viewer/gl/light_maps.h"
#include "viewer/gl/look.h"
#include "viewer/gl/still_picture.h"
#include "viewer/gl/view.h"
#include "viewer/gl/wall_marks.h"

#include "engine/plan/plan.h"
#include "engine/scene/scene.h"

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace petalproof::gl {

// Told what is drawn next, "blooms", "panels", and "" once all is, by who wants to know what each takes.
using PassListener = std::function<void(const char*)>;

// A bloom's sign: chosen by the hand, or added as a filler just now.
enum Sign : std::uint8_t { no_sign = 0, chosen_sign = 1, new_sign = 2 };

class WallRenderer {
 public:
  WallRenderer();

  // Sends what changed since the last scene.
  Sent setScene(const scene::Scene& scene);
  void setPeople(std::span<const plan::Person> people, const camera::WallFrame& wall);
  void setMarks(std::span<const WallMark> marks) { marks_.set(marks); }
  // One a bloom of the scene, of the bits of Sign; fewer: the others have none.
  void setSigns(std::span<const std::uint8_t> signs);
  // Those that the hand holds, 1 each, as setSigns: they will move next.
  void setHeld(std::span<const std::uint8_t> held) { held_.assign(held.begin(), held.end()); }
  void setHeat(const gaps::BareMap& map, int shots) { heat_.set(map, shots); }

  // The whole picture, people in front of marks, onto a canvas of the view's size.
  void draw(const View& view, const Look& look, Canvas& canvas, const PassListener& next = {});

  // The same while blooms are moved, for one sample a pixel and with the light as it was: what stands still
  // is taken from `still` where that is of this view and look.
  void drawMoving(const View& view, const Look& look, Canvas& canvas, StillPicture& still);

  // The marks alone, over what is bound to be drawn on: sharp on a blurred picture.
  void drawMarks(const View& view, const MarkInk& ink) const { marks_.draw(view, ink); }

  // The blooms only, for pictures of ids; as InstancedMeshes::draw.
  void drawBlooms(const Program& program, const View& view) const {
    blooms_.draw(program, copies_unit, view);
  }
  const scene::PanelGrid& panels() const { return panels_; }

  static constexpr int copies_unit = 3;

 private:
  void lightAgain();
  void drawRoom(const View& view, const Look& look) const;
  void drawSolids(const View& view, const Look& look, const Part& part, const PassListener& next) const;
  void drawBloomsAsPaper(const View& view, const Look& look, const Part& part) const;
  void drawOnTop(const View& view, const Look& look) const;
  void drawStill(StillPicture& still) const;
  bool standsStill(const StillPicture& still) const;
  std::vector<std::uint8_t> movingNext() const;
  void drawPeople(const View& view, const Look& look) const;
  const Program& useForPaper(const View& view, const Look& look) const;

  Program paper_;
  Program room_;
  LightMaps light_;
  InstancedMeshes blooms_;
  InstancedMeshes solids_;
  InstancedMeshes people_;
  WallMarks marks_;
  HeatLayer heat_;
  VertexArray empty_array_;
  Buffer sign_data_;
  Texture sign_texture_;
  std::vector<glm::vec3> standing_;  // people: right, out, how wide, mm
  scene::PanelGrid panels_;
  Colour room_colour_;
  std::size_t bloom_count_ = 0;
  // Of blooms: the number of the change that moved each last.
  std::uint64_t moves_ = 0;
  std::vector<std::uint64_t> moved_at_;
  std::vector<std::uint8_t> held_;
  std::uint64_t wall_changes_ = 0;
  std::uint64_t light_changes_ = 0;
  std::uint64_t sign_changes_ = 0;
  std::uint64_t people_changes_ = 0;
  bool light_is_old_ = true;
  bool lit_ = false;
  float highest_mm_ = 0;
};

}  // namespace petalproof::gl
