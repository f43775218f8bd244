#include "viewer/window/wall_pictures.h"

#include "viewer/app/filler_notes.h"

#include <algorithm>
#include <chrono>
#include <utility>

namespace petalproof::window {
namespace {

// A picture that takes longer than smooth_ms (40 frames a second) is drawn quickly while it moves; if it then
// still takes longer than slow_ms, it is drawn smaller.
constexpr double smooth_ms = 24;
constexpr double slow_ms = 80;
constexpr int largest_divisor = 2;  // a coarser picture shows no petals
// After a single change the person waits this long for a fine picture; changes within this time of each other
// are motion.
constexpr double patience_ms = 400;
// How far a bloom's corners may be off: hardly seen in motion, never seen at rest.
constexpr float moving_coarse_px = 3.0F;
constexpr float fine_coarse_px = 0.6F;

double millisecondsSince(std::chrono::steady_clock::time_point start) {
  glFinish();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

// The divisor of the next picture in motion, after a picture with `divisor` took `ms`. Returns to a smaller
// divisor only where that is surely fast enough, or it would switch back and forth: pixels grow by the square
// of the ratio, corners don't.
int nextDivisor(int divisor, double ms) {
  if (ms > slow_ms) return std::min(divisor + 1, largest_divisor);
  if (divisor == 1) return 1;
  const double ratio = static_cast<double>(divisor) / (divisor - 1);
  return ratio * ms < slow_ms / 2 ? divisor - 1 : divisor;
}

gl::LineStyle lineOf(const reading::Reading* reading) {
  if (reading == nullptr) return gl::LineStyle::solid;
  switch (reading->reads) {
    case reading::Reads::shows: return gl::LineStyle::solid;
    case reading::Reads::faint: return gl::LineStyle::dashed;
    case reading::Reads::lost: return gl::LineStyle::dotted;
  }
  return gl::LineStyle::solid;
}

std::vector<gl::WallMark> marksOf(const app::State& state) {
  std::vector<gl::WallMark> marks;
  if (!state.hasPlan() || !app::isCurrent(state, state.shot)) return marks;
  // Through the lens, people hide the gaps behind them.
  const bool hide_behind_people = state.view.main == app::MainView::throughLens && state.view.people;
  for (const app::GapRef& ref : app::listedGaps(state, state.shot)) {
    const gaps::Gap* const gap = app::gapOf(state, ref);
    if (gap == nullptr || (hide_behind_people && gap->behind_people)) continue;
    marks.push_back({gap->outline_mm, lineOf(app::readingOf(state, ref)), state.gap == ref});
  }
  return marks;
}

bool isSame(const gl::WallMark& a, const gl::WallMark& b) {
  return a.outline_mm == b.outline_mm && a.style == b.style && a.chosen == b.chosen;
}

bool isSameLook(const gl::Look& a, const gl::Look& b) {
  return a.room == b.room && a.paper == b.paper && a.people == b.people && a.marks == b.marks &&
         a.heat == b.heat && a.pale == b.pale && a.ink.ink == b.ink.ink && a.ink.width_px == b.ink.width_px &&
         a.chosen == b.chosen && a.added == b.added && a.signs == b.signs;
}

bool isSameSpread(const std::optional<gl::LensSpread>& a, const std::optional<gl::LensSpread>& b) {
  if (!a || !b) return !a && !b;
  return a->px_per_mm == b->px_per_mm && a->largest_px == b->largest_px &&
         a->lens.focal_mm == b->lens.focal_mm && a->lens.f_number == b->lens.f_number &&
         a->lens.focus_mm == b->lens.focus_mm;
}

bool isSameWish(const PictureWish& a, const PictureWish& b) {
  return a.view.clipFromWall == b.view.clipFromWall && a.view.eye == b.view.eye &&
         a.view.width_px == b.view.width_px && a.view.height_px == b.view.height_px &&
         a.people_of == b.people_of && isSameLook(a.look, b.look) && isSameSpread(a.spread, b.spread);
}

bool isChosen(const app::State& state, const scene::BloomInstance& bloom) {
  const app::BloomRef ref{bloom.panel_column, bloom.panel_row, bloom.index};
  const auto& blooms = state.selection.blooms;
  return std::find(blooms.begin(), blooms.end(), ref) != blooms.end();
}

}  // namespace

gl::Look lookOf(const app::State& state, float ink_px) {
  gl::Look look;
  look.people = state.view.people ? 1.0F : 0.0F;
  look.heat = state.view.heat;
  look.marks = state.view.marks && !state.view.heat;
  look.ink.width_px = ink_px;
  return look;
}

void WallPictures::follow(const app::State& state) {
  if (state.live.scene != scene_) {
    const std::size_t blooms = scene_ ? scene_->blooms.size() : 0;
    scene_ = state.live.scene;
    if (scene_) renderer_.setScene(*scene_);
    // The renderer keeps the signs as long as the number of blooms stays.
    if (!scene_ || scene_->blooms.size() != blooms) signs_.clear();
    ++wall_version_;
  }
  if (state.now.plan != plan_) {
    plan_ = state.now.plan;
    ++people_version_;
  }
  if (!scene_) return;
  followSigns(state);
  followMarks(state);
  followHeat(state);
}

void WallPictures::followMarks(const app::State& state) {
  std::vector<gl::WallMark> marks = marksOf(state);
  if (std::equal(marks.begin(), marks.end(), marks_.begin(), marks_.end(), isSame)) return;
  marks_ = std::move(marks);
  renderer_.setMarks(marks_);
  ++mark_version_;
}

void WallPictures::followSigns(const app::State& state) {
  std::vector<std::uint8_t> signs;
  for (const scene::BloomInstance& bloom : scene_->blooms) {
    const bool added = bloom.panel_column < 0 && app::glows(state, bloom.index);
    signs.push_back(static_cast<std::uint8_t>((isChosen(state, bloom) ? gl::chosen_sign : 0) |
                                              (added ? gl::new_sign : 0)));
  }
  if (signs == signs_) return;
  signs_ = std::move(signs);
  renderer_.setSigns(signs_);
  followHeld(state);
  ++mark_version_;
}

// Copies in other cells move together with a chosen bloom.
void WallPictures::followHeld(const app::State& state) {
  std::vector<std::uint8_t> held;
  for (const scene::BloomInstance& bloom : scene_->blooms)
    held.push_back(app::movesWithChosen(state, {bloom.panel_column, bloom.panel_row, bloom.index}) ? 1 : 0);
  holds_blooms_ = std::find(held.begin(), held.end(), 1) != held.end();
  renderer_.setHeld(held);
}

void WallPictures::followHeat(const app::State& state) {
  if (state.live.bare == bare_) return;
  bare_ = state.live.bare;
  if (bare_) renderer_.setHeat(*bare_, static_cast<int>(state.live.shots.size()));
  if (!bare_) renderer_.setHeat({}, 0);
  ++mark_version_;
}

void WallPictures::putPeople(int shot) {
  if (!plan_ || (shot == people_of_ && people_plan_ == plan_)) return;
  const std::vector<plan::Shot> shots = app::shotsOf(plan_->plan);
  const bool exists = shot >= 0 && shot < static_cast<int>(shots.size());
  renderer_.setPeople(exists ? shots[static_cast<std::size_t>(shot)].people : std::vector<plan::Person>{},
                      camera::wallFrameOf(plan_->plan));
  people_of_ = shot;
  people_plan_ = plan_;
}

GLuint WallPictures::draw(const PictureWish& wish, gl::Canvas& canvas, gl::Canvas& blurred) {
  putPeople(wish.people_of);
  canvas.resize(wish.view.width_px, wish.view.height_px);
  gl::Look look = wish.look;
  look.marks = wish.look.marks && !wish.spread;
  renderer_.draw(wish.view, look, canvas);
  canvas.finish(wish.spread.has_value());
  if (!wish.spread) return canvas.texture();
  blur_.draw(canvas, wish.view, *wish.spread, blurred);
  if (wish.look.marks) {
    blurred.beginOnFinished();
    renderer_.drawMarks(wish.view, wish.look.ink);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
  }
  return blurred.texture();
}

GLuint WallPictures::drawMoving(const PictureWish& wish, gl::Canvas& canvas, gl::StillPicture& still) {
  putPeople(wish.people_of);
  canvas.resize(wish.view.width_px, wish.view.height_px);
  renderer_.drawMoving(wish.view, wish.look, canvas, still);
  canvas.finish();
  return canvas.texture();
}

std::optional<std::size_t> WallPictures::bloomAt(const gl::View& view, int x_px, int y_px) {
  if (!scene_) return std::nullopt;
  ids_.draw(renderer_, gl::partOf(view, x_px, y_px, 1, 1));
  const visibility::PixelId id = ids_.ids().front();
  if (id.sees() != visibility::Sees::bloom || id.index() >= scene_->blooms.size()) return std::nullopt;
  return id.index();
}

bool WallPictures::step(gl::TiledPicture& picture, int people_of) {
  putPeople(people_of);
  return picture.step(renderer_);
}

bool PicturePane::showsSameWall(const WallPictures& pictures, const PictureWish& wish) const {
  return shown_ && isSameWish(shown_->wish, wish) && shown_->wall == pictures.wallVersion() &&
         (shown_->people == pictures.peopleVersion() || wish.people_of < 0);
}

bool PicturePane::isCurrent(const WallPictures& pictures, const PictureWish& wish) const {
  return showsSameWall(pictures, wish) &&
         (shown_->marks == pictures.markVersion() || !(wish.look.marks || wish.look.signs || wish.look.heat));
}

// Draws quickly: with the last light, without blur and without smooth edges.
GLuint PicturePane::drawMoving(WallPictures& pictures, const PictureWish& wish) {
  PictureWish now = wish;
  now.look.coarse_px = moving_coarse_px;
  now.spread.reset();
  const bool same_wish = shown_ && isSameWish(shown_->wish, wish);
  // The same view with moved or just picked blooms, or with changed marks over a still picture.
  if (same_wish && (shown_->wall != pictures.wallVersion() || still_.drawn || pictures.holdsBlooms()))
    return pictures.drawMoving(now, moving_, still_);
  now.look.keep_light = true;
  const double share = std::min(gl::shareInMotion(now.view), 1.0 / moving_divisor_);
  now.view = gl::smaller(now.view, share);
  now.look.ink.width_px *= static_cast<float>(share);
  const auto start = std::chrono::steady_clock::now();
  const GLuint texture = pictures.draw(now, moving_, blurred_);
  const double ms = millisecondsSince(start);
  moving_divisor_ = nextDivisor(moving_divisor_, ms);
  return texture;
}

// True where this change follows the last change so fast that both belong to a motion.
bool PicturePane::isMotion() {
  const auto now = std::chrono::steady_clock::now();
  return now - std::exchange(changed_at_, now) < std::chrono::duration<double, std::milli>(patience_ms);
}

GLuint PicturePane::show(WallPictures& pictures, const PictureWish& wish, bool in_hand) {
  const bool current = isCurrent(pictures, wish);
  // A slow fine picture waits until the person lets go, who may move on at any moment.
  if (current && (fine_ || (in_hand && last_fine_ms_ > smooth_ms))) return texture_;
  const bool moves = in_hand || (!showsSameWall(pictures, wish) && isMotion());
  fine_ = current || last_fine_ms_ <= (moves ? smooth_ms : patience_ms);
  if (fine_) {
    const auto start = std::chrono::steady_clock::now();
    PictureWish now = wish;
    now.look.coarse_px = fine_coarse_px;
    texture_ = pictures.draw(now, canvas_, blurred_);
    last_fine_ms_ = millisecondsSince(start);
  } else {
    texture_ = drawMoving(pictures, wish);
  }
  shown_ = Key{wish, pictures.wallVersion(), pictures.markVersion(), pictures.peopleVersion()};
  return texture_;
}

}  // namespace petalproof::window
