#pragma once
// All that is made of widgets: the notebook beside a wall, the start page where there is none, and the
// questions.

#include "viewer/window/panels/notebook.h"
#include "viewer/window/panels/questions.h"
#include "viewer/window/panels/start_page.h"
#include "viewer/window/ui.h"
#include "viewer/window/wall_pictures.h"

#include <filesystem>
#include <vector>

namespace petalproof::window {

class Desk {
 public:
  // `notes`: beside a wall; `whole`: for the start page.
  app::Actions draw(const app::State& state, const Ui& ui, const Area& notes, const Area& whole,
                    WallPictures& pictures);
  // A frame later the start page's picture would look better.
  bool wantsFrame() const { return start_.wantsFrame(); }
  // A plan is opened, tables go to the start page; first comes the question what becomes of a plan that is
  // open.
  app::Actions take(const app::State& state, const std::vector<std::filesystem::path>& dropped);
  // The window is to be closed: at once where everything is saved.
  void wantsToClose() { questions_.askBeforeLeaving({true, {}, {}}); }
  bool mayClose() const { return questions_.mayLeave(); }
  // The actions of a frame, with a question in place of those that need one first.
  app::Actions asked(const app::State& state, app::Actions actions);

 private:
  void follow(Notebook::Wish wish, const app::State& state);

  Notebook notebook_;
  StartPage start_;
  Questions questions_;
};

}  // namespace petalproof::window
