#pragma once
// The part of the page of blooms about a kind of bloom: its form, the work and the card that a bloom takes,
// its colours. BloomPage draws it below the chosen kind.

#include "viewer/window/panels/fields.h"
#include "viewer/window/ui.h"

namespace petalproof::window {

class KindPart {
 public:
  void draw(const app::State& state, const Ui& ui, int kind, app::Actions& actions);

 private:
  struct Work {
    const app::State& state;
    const Ui& ui;
    int kind = 0;
    plan::Bloom bloom;  // with the changes of this frame
    app::Actions& actions;
    float width = 0;  // of a field
  };
  // Adds the edit that makes the changed kind.
  void set(Work& work, int stroke = 0);
  // Takes over a typed value, where there is one.
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
