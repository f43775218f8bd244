#pragma once
// Everything that is made of widgets: the notebook beside a wall, the start page where no plan is open, and
// the questions. Screen draws it.

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
  // `notes`: the notebook's area beside a wall; `whole`: the start page's area.
  app::Actions draw(const app::State& state, const Ui& ui, const Area& notes, const Area& whole,
                    WallPictures& pictures);
  // True where another frame would improve the start page's picture.
  bool wantsFrame() const { return start_.wantsFrame(); }
  // Takes files dropped on the window: opens a plan, hands tables to the start page. Where a plan is open,
  // asks first whether to leave it.
  app::Actions take(const app::State& state, const std::vector<std::filesystem::path>& dropped);
  // The person wants to close the window: at once where everything is saved.
  void wantsToClose() { questions_.askBeforeLeaving({true, {}, {}}); }
  bool mayClose() const { return questions_.mayLeave(); }
  // The actions of a frame; an action that needs an answer first (where to save) is replaced by its question.
  app::Actions asked(const app::State& state, app::Actions actions);

 private:
  void follow(Notebook::Wish wish, const app::State& state);

  Notebook notebook_;
  StartPage start_;
  Questions questions_;
};

}  // namespace petalproof::window
