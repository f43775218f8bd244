#include "viewer/window/panels/manual.h"

#include "viewer/window/manual_texts.h"
#include "viewer/window/markdown_view.h"

#include <algorithm>
#include <utility>

namespace petalproof::window {

void Manual::read() {
  for (const ManualText& text : manualTexts()) {
    Page page{std::string(text.file), "", parseMarkdown(text.text)};
    if (!page.blocks.empty()) page.title = plainText(page.blocks.front().line);
    pages_.push_back(std::move(page));
  }
}

const Manual::Page* Manual::pageOf(const std::string& link) const {
  const std::string file = link.substr(0, link.find('#'));
  if (file.empty()) return &pages_[open_];
  const auto page = std::find_if(pages_.begin(), pages_.end(), [&](const Page& p) { return p.file == file; });
  return page == pages_.end() ? nullptr : &*page;
}

void Manual::show(std::size_t page, std::string anchor) {
  open_ = page;
  to_top_ = anchor.empty();
  anchor_ = std::move(anchor);
}

void Manual::follow(const std::string& link) {
  const Page* const page = pageOf(link);
  if (page == nullptr) return;
  const std::size_t hash = link.find('#');
  show(static_cast<std::size_t>(page - pages_.data()),
       hash == std::string::npos ? std::string() : link.substr(hash + 1));
}

void Manual::drawList(const Ui& ui, float width) {
  ImGui::BeginChild("pages", {width, 0}, false, walked_through);
  for (std::size_t k = 0; k < pages_.size(); ++k) {
    if (ImGui::Selectable(pages_[k].title.c_str(), k == open_, ImGuiSelectableFlags_DontClosePopups))
      show(k, "");
    ImGui::Dummy({0, 2 * ui.scale});
  }
  ImGui::EndChild();
}

void Manual::drawPage(const Ui& ui) {
  ImGui::BeginChild("page", {0, 0}, false, ImGuiWindowFlags_AlwaysVerticalScrollbar);
  if (std::exchange(to_top_, false)) ImGui::SetScrollY(0);
  const MarkdownViewOptions options{[this](const std::string& link) { return pageOf(link) != nullptr; },
                                    std::exchange(anchor_, {})};
  const auto pressed = drawMarkdown(pages_[open_].blocks, ui, options);
  ImGui::EndChild();
  if (pressed) follow(*pressed);
}

void Manual::draw(const Ui& ui, ImVec2 size) {
  if (pages_.empty()) read();
  ImGui::BeginChild("manual", size);
  drawList(ui, 160 * ui.scale);
  ImGui::SameLine(0, 14 * ui.scale);
  drawPage(ui);
  ImGui::EndChild();
}

}  // namespace petalproof::window
