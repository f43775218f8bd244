#pragma once
// What a picture's holes and its visible pieces of paper look like, all measured by one recipe: each is
// filled by what surrounds it, and the picture with it and with it filled are blurred as the lens blurs them,
// and compared as the eye sees them.

#include "engine/base/pool.h"
#include "engine/camera/camera.h"
#include "engine/gaps/gaps.h"
#include "engine/picture/lens_blur.h"
#include "engine/picture/working_picture.h"
#include "engine/reading/patch_looks.h"

#include <memory>
#include <stop_token>
#include <vector>

namespace petalproof::reading {

struct LooksInput {
  const picture::WorkingPicture& picture;
  const camera::Camera& camera;  // of the shot
  const scene::PanelGrid& panels;
  const std::vector<gaps::Hole>& holes;  // of the shot
  picture::LensBlur lens = {};
  glm::vec3 elsewhere{0.18F};  // fills a bare wall that no bloom borders, linear light
};

struct PictureLooks {
  std::vector<PatchLooks> holes;      // as the input's
  std::vector<double> widths_arcmin;  // of each hole's largest disc, likewise
  std::vector<PatchLooks> pieces;     // from the top, then from the left
};

// Keeps buffers from call to call.
class PictureLooker {
 public:
  // Refers to `pool`, which must outlive it. Looks don't depend on it.
  explicit PictureLooker(const Pool& pool);
  ~PictureLooker();

  // `stop` is asked for each patch; another look may follow.
  PictureLooks look(const LooksInput& input, const std::stop_token& stop = {});

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace petalproof::reading
