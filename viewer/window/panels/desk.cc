#include "viewer/window/panels/desk.h"

#include <GLFW/glfw3.h>

#include <algorithm>

namespace petalproof::window {
namespace fs = std::filesystem;

void Desk::follow(Notebook::Wish wish, const app::State& state) {
  switch (wish) {
    case Notebook::Wish::nothing: return;
    case Notebook::Wish::saveElsewhere: return questions_.askWhereToSave(state);
    case Notebook::Wish::help: return questions_.showHelp();
    case Notebook::Wish::closePlan: return questions_.askBeforeLeaving({});
  }
}

app::Actions Desk::draw(const app::State& state, const Ui& ui, const Area& notes, const Area& whole,
                        WallPictures& pictures) {
  if (ui.wasPressed(GLFW_KEY_F1)) questions_.showHelp();
  app::Actions actions =
      state.hasPlan() ? notebook_.draw(state, ui, notes) : start_.draw(state, ui, whole, pictures);
  follow(notebook_.takeWish(), state);
  if (start_.takeHelp()) questions_.showHelp();
  const app::Actions answers = questions_.draw(state, ui);
  start_.takeTables(questions_.takeTables());
  actions.insert(actions.end(), answers.begin(), answers.end());
  return actions;
}

app::Actions Desk::take(const app::State& state, const std::vector<fs::path>& dropped) {
  app::Actions actions;
  std::vector<fs::path> tables;
  for (const fs::path& file : dropped) {
    const std::string ending = file.extension().string();
    if (ending == ".csv" || ending == ".tsv" || ending == ".txt")
      tables.push_back(file);
    else if (state.hasPlan())
      questions_.askBeforeLeaving({false, file, {}});
    else
      actions.emplace_back(app::OpenPlan{file});
  }
  if (state.hasPlan() && !tables.empty()) questions_.askBeforeLeaving({false, {}, tables});
  if (!state.hasPlan()) start_.takeTables(tables);
  return actions;
}

app::Actions Desk::asked(const app::State& state, app::Actions actions) {
  const auto needsPlace = [&](const app::Action& action) {
    return std::holds_alternative<app::Save>(action) && state.path.empty();
  };
  if (std::erase_if(actions, needsPlace) > 0) questions_.askWhereToSave(state);
  return actions;
}

}  // namespace petalproof::window
