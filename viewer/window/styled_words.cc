#include "viewer/window/styled_words.h"

#include <algorithm>
#include <string_view>

namespace petalproof::window {
namespace {

float widthOf(const ImFont& font, std::string_view text) {
  return font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, text.data(), text.data() + text.size()).x;
}

ImFont* fontOf(const MarkdownSpan& span, const Fonts& fonts, ImFont* plain) {
  if (span.code) return fonts.mono;
  return span.bold ? fonts.bold : plain;
}

// The end of what can't be broken from the word `from` on, and its width.
struct Unbroken {
  std::size_t end = 0;
  float width = 0;
};

Unbroken unbrokenFrom(const std::vector<StyledWord>& words, std::size_t from) {
  Unbroken piece{from + 1, words[from].width};
  while (piece.end < words.size() && words[piece.end].space_before == 0)
    piece.width += words[piece.end++].width;
  return piece;
}

// Draws words from left to right and down.
class WordPen {
 public:
  WordPen(const Ui& ui, float width) : ui_(ui), start_(ImGui::GetCursorScreenPos()), width_(width) {}

  float height() const { return y_ + ImGui::GetTextLineHeight(); }

  void place(const StyledWord& first, float width) {
    const float space = x_ > 0 ? first.space_before : 0;
    if (x_ > 0 && x_ + space + width > width_) {
      x_ = 0;
      y_ += ImGui::GetTextLineHeight() + line_space * ui_.scale;
      space_ = 0;
    } else {
      space_ = space;
      x_ += space;
    }
  }

  // True where the word was pressed.
  bool draw(const StyledWord& word, bool is_link, bool goes_on) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at(start_.x + x_, start_.y + y_);
    const ImVec2 end(at.x + word.width, at.y + ImGui::GetTextLineHeight());
    if (word.span->code) {
      const float left = at.x - (goes_on ? space_ : 0);
      list.AddRectFilled({left, at.y}, {end.x, end.y + ui_.scale}, faded(ui_.theme.line, 0.45F),
                         2 * ui_.scale);
    }
    // Letters of a smaller font stand on the same line.
    const float down = (ImGui::GetTextLineHeight() - word.font->FontSize) * 0.7F;
    list.AddText(word.font, word.font->FontSize, {at.x, at.y + std::max(down, 0.0F)},
                 is_link ? ui_.theme.pencil : ImGui::GetColorU32(ImGuiCol_Text), word.text.data(),
                 word.text.data() + word.text.size());
    x_ += word.width;
    space_ = 0;
    return is_link && isPressed(list, at, end);
  }

 private:
  static constexpr float line_space = 4;

  bool isPressed(ImDrawList& list, ImVec2 at, ImVec2 end) const {
    if (!ImGui::IsWindowHovered() || !ImGui::IsMouseHoveringRect(at, end)) return false;
    ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    list.AddLine({at.x, end.y}, end, ui_.theme.pencil);
    return ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  }

  const Ui& ui_;
  ImVec2 start_;
  float width_;
  float x_ = 0;
  float y_ = 0;
  float space_ = 0;  // before the word that comes next
};

}  // namespace

std::vector<StyledWord> styledWords(const MarkdownLine& line, const Fonts& fonts, ImFont* plain) {
  std::vector<StyledWord> words;
  float space = 0;
  for (const MarkdownSpan& span : line) {
    ImFont* const font = fontOf(span, fonts, plain);
    bool begins = true;
    for (std::size_t at = 0; at < span.text.size();) {
      if (span.text[at] == ' ') {
        space = widthOf(begins ? *plain : *font, " ");
        ++at;
        continue;
      }
      const std::size_t end = std::min(span.text.find(' ', at), span.text.size());
      std::string text = span.text.substr(at, end - at);
      const float width = widthOf(*font, text);
      words.push_back({std::move(text), &span, font, width, space});
      space = 0;
      begins = false;
      at = end;
    }
  }
  return words;
}

WordWidths widthsOf(const std::vector<StyledWord>& words) {
  WordWidths widths;
  for (std::size_t k = 0; k < words.size();) {
    const Unbroken piece = unbrokenFrom(words, k);
    widths.all += piece.width + words[k].space_before;
    widths.longest = std::max(widths.longest, piece.width);
    k = piece.end;
  }
  return widths;
}

std::optional<std::string> drawWords(const std::vector<StyledWord>& words, const Ui& ui, float width,
                                     const std::function<bool(const std::string&)>& opens) {
  std::optional<std::string> pressed;
  WordPen pen(ui, width);
  for (std::size_t k = 0; k < words.size();) {
    const Unbroken piece = unbrokenFrom(words, k);
    pen.place(words[k], piece.width);
    for (; k < piece.end; ++k) {
      const std::string& link = words[k].span->link;
      const bool goes_on = k > 0 && words[k - 1].span == words[k].span;
      if (pen.draw(words[k], !link.empty() && opens(link), goes_on)) pressed = link;
    }
  }
  ImGui::Dummy({width, pen.height()});
  return pressed;
}

}  // namespace petalproof::window
