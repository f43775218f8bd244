#pragma once
// The manual: a list of its pages at the left, the chosen page beside it.

#include "viewer/window/markdown.h"
#include "viewer/window/ui.h"

#include <string>
#include <vector>

namespace petalproof::window {

class Manual {
 public:
  // As large as `size`.
  void draw(const Ui& ui, ImVec2 size);

 private:
  struct Page {
    std::string file;   // "plan-file.md"
    std::string title;  // its first heading
    std::vector<MarkdownBlock> blocks;
  };

  void read();
  void drawList(const Ui& ui, float width);
  void drawPage(const Ui& ui);
  // The page that a link opens; the open page for "#heading"; nullptr for links out of the manual.
  const Page* pageOf(const std::string& link) const;
  void follow(const std::string& link);
  void show(std::size_t page, std::string anchor);

  std::vector<Page> pages_;  // read when they are first shown
  std::size_t open_ = 0;
  std::string anchor_;  // of the heading that the next frame begins at
  bool to_top_ = false;
};

}  // namespace petalproof::window
