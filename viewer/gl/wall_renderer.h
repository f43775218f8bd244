#pragma once
// Draws the wall with OpenGL for people to look at; the views of the window and picture.h call it. No finding
// comes from here: the engine finds the gaps.

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

// Called with the name of each pass of drawing before it begins ("blooms", "panels"), and with "" after the
// last. Benchmarks measure passes with it.
using PassListener = std::function<void(const char*)>;

// A bloom's sign: chosen by the person, or just added as a filler.
enum Sign : std::uint8_t { no_sign = 0, chosen_sign = 1, new_sign = 2 };

class WallRenderer {
 public:
  WallRenderer();

  // Sends what changed since the last scene.
  Sent setScene(const scene::Scene& scene);
  void setPeople(std::span<const plan::Person> people, const camera::WallFrame& wall);
  void setMarks(std::span<const WallMark> marks) { marks_.set(marks); }
  // The bits of Sign for each bloom of the scene; blooms beyond the end have none.
  void setSigns(std::span<const std::uint8_t> signs);
  // 1 for each bloom that the person holds and will move next.
  void setHeld(std::span<const std::uint8_t> held) { held_.assign(held.begin(), held.end()); }
  void setHeat(const gaps::BareMap& map, int shots) { heat_.set(map, shots); }

  // Draws the whole picture, people in front of marks, onto a canvas of the view's size.
  void draw(const View& view, const Look& look, Canvas& canvas, const PassListener& next = {});

  // Draws the picture while blooms are dragged, onto a canvas with a single sample for each pixel and with
  // the light as it was. Takes blooms at rest from `still` where that has the same view and look.
  void drawMoving(const View& view, const Look& look, Canvas& canvas, StillPicture& still);

  // Draws only the marks onto the framebuffer in use, so that they are sharp on a blurred picture.
  void drawMarks(const View& view, const MarkInk& ink) const { marks_.draw(view, ink); }

  // Draws only the blooms, for IdPicture; as InstancedMeshes::draw().
  void drawBlooms(const Program& program, const View& view) const {
    blooms_.draw(program, copies_unit, view);
  }
  const scene::PanelGrid& panels() const { return panels_; }

  static constexpr int copies_unit = 3;  // the texture unit of the copies

 private:
  void updateLight();
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
  std::vector<glm::vec3> standing_;  // people, for shadows on the floor: right, out, width, mm
  scene::PanelGrid panels_;
  Colour room_colour_;
  std::size_t bloom_count_ = 0;
  std::uint64_t moves_ = 0;              // the number of changes that moved blooms
  std::vector<std::uint64_t> moved_at_;  // for each bloom, the number of its last such change
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
