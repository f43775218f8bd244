#pragma once
// Would anyone notice? Each hole of a picture against the picture's own pieces of paper: it is noticed where
// it is odder than nearly all of them, and large enough to be made out.

#include "engine/base/image.h"
#include "engine/camera/camera.h"
#include "engine/picture/lens_blur.h"
#include "engine/picture/working_picture.h"
#include "engine/plan/plan.h"
#include "engine/reading/oddity.h"
#include "engine/reading/picture_looks.h"

#include <stop_token>
#include <vector>

namespace petalproof::reading {

enum class Reads { lost, faint, shows };
const char* nameOf(Reads reads);  // "lost", "faint", "shows"

struct Reading {
  Reads reads = Reads::lost;
  double width_arcmin = 0;  // of the largest disc that fits into the hole, as looked at
  double difference = 0;    // S-CIELAB, CIE 1976, between the picture with the hole and with it filled
  double odder_than = 0;    // share of the pieces of paper that stand out less; 1 where there are too few
  PatchLooks looks;
};

// An eye that tells 1' apart doesn't make out what is narrower than this, unless it is a line.
constexpr double made_out_arcmin = 3;
// Longer than 8 times its width, straight within it, and 30' or more.
bool seenAsLine(const PatchLooks& looks, double width_arcmin);
bool canBeMadeOut(const PatchLooks& looks, double width_arcmin);

// Lost: its difference is under `faint`, or it is odder than less than the first share of `odd`. Shows: odder
// than the second, and large enough to be made out. Else faint.
Reads readsAs(double difference, double odder_than, bool made_out, const plan::ReadingThresholds& thresholds);

// Of one hole; where `pieces` says nothing only its difference and its size decide.
Reading readingOf(const PatchLooks& hole, double width_arcmin, const Oddity& pieces,
                  const plan::ReadingThresholds& thresholds);
// As `looks.holes`.
std::vector<Reading> readingsOf(const PictureLooks& looks, const Oddity& pieces,
                                const plan::ReadingThresholds& thresholds);

// The delivered picture: blurred, at the working size, in sRGB.
Image asSeen(const picture::WorkingPicture& picture, const camera::Camera& camera,
             const picture::LensBlur& lens, const Pool& pool, const std::stop_token& stop = {});

// Of the camera's board plane, by pixels of a working picture.
picture::InversePlane boardInverse(const camera::Camera& camera, const camera::WorkingSize& size);

}  // namespace petalproof::reading
