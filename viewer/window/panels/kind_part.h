#pragma once
#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

// One kind of bloom: its form, what one takes to make, its colours.
class KindPart {
 public:
  void draw(const app::State& state, const Ui& ui, int kind, app::Actions& actions);

 private:
  struct Work {
    const app::State& state;
    const Ui& ui;
    int kind = 0;
    plan::Bloom bloom;  // as it becomes
    app::Actions& actions;
    float width = 0;  // of a field
  };
  void set(Work& work, int stroke = 0);
  template <class Value>
  void take(Work& work, const std::optional<Value>& typed, Value& into);
  void drawNames(Work& work);
  void drawForm(Work& work);
  void drawPetals(Work& work);
  void drawStanding(Work& work);
  void drawMaking(Work& work);
  void drawCard(Work& work);
  void drawColours(Work& work);

  Fields fields_;
  ColourFields colours_;
};

}  // namespace petalproof::window
