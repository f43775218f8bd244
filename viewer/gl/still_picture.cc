#include "viewer/gl/still_picture.h"

namespace petalproof::gl {
namespace {

bool isSameView(const View& a, const View& b) {
  return a.clipFromWall == b.clipFromWall && a.eye == b.eye && a.width_px == b.width_px &&
         a.height_px == b.height_px;
}

// Without marks and ink, which are drawn on top of the still picture.
bool isSameLook(const Look& a, const Look& b) {
  return a.room == b.room && a.paper == b.paper && a.people == b.people && a.heat == b.heat &&
         a.signs == b.signs && a.coarse_px == b.coarse_px && a.pale == b.pale && a.chosen == b.chosen &&
         a.added == b.added;
}

}  // namespace

bool isSameStill(const StillKey& a, const StillKey& b) {
  return isSameView(a.view, b.view) && isSameLook(a.look, b.look) && a.wall == b.wall && a.light == b.light &&
         a.signs == b.signs && a.people == b.people;
}

}  // namespace petalproof::gl
