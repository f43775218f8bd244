#include "viewer/window/markdown.h"

#include <fmt/format.h>
#include <md4c.h>

#include <cctype>

namespace petalproof::window {
namespace {

std::string textOf(const MD_ATTRIBUTE& attribute) { return {attribute.text, attribute.size}; }

// Takes MD4C's events, one page long.
class PageBuilder {
 public:
  void enter(MD_BLOCKTYPE type, const void* detail) {
    switch (type) {
      case MD_BLOCK_H:
        begin(MarkdownKind::heading, static_cast<int>(static_cast<const MD_BLOCK_H_DETAIL*>(detail)->level));
        break;
      case MD_BLOCK_CODE:
        begin(MarkdownKind::code, depth());
        blocks_.back().info = textOf(static_cast<const MD_BLOCK_CODE_DETAIL*>(detail)->info);
        break;
      case MD_BLOCK_UL: next_numbers_.push_back(0); break;
      case MD_BLOCK_OL:
        next_numbers_.push_back(static_cast<int>(static_cast<const MD_BLOCK_OL_DETAIL*>(detail)->start));
        break;
      case MD_BLOCK_LI: beginItem(); break;
      case MD_BLOCK_P: beginParagraph(); break;
      case MD_BLOCK_TABLE: begin(MarkdownKind::table, depth()); break;
      case MD_BLOCK_TR: blocks_.back().table.emplace_back(); break;
      case MD_BLOCK_TH:
      case MD_BLOCK_TD:
        blocks_.back().table.back().emplace_back();
        line_ = &blocks_.back().table.back().back();
        break;
      default: break;
    }
  }

  void leave(MD_BLOCKTYPE type) {
    if (type == MD_BLOCK_UL || type == MD_BLOCK_OL) next_numbers_.pop_back();
  }

  void enter(MD_SPANTYPE type, const void* detail) {
    switch (type) {
      case MD_SPAN_EM: style_.italic = true; break;
      case MD_SPAN_STRONG: style_.bold = true; break;
      case MD_SPAN_CODE: style_.code = true; break;
      case MD_SPAN_A: style_.link = textOf(static_cast<const MD_SPAN_A_DETAIL*>(detail)->href); break;
      case MD_SPAN_IMG: style_.link = textOf(static_cast<const MD_SPAN_IMG_DETAIL*>(detail)->src); break;
      default: break;
    }
  }

  void leave(MD_SPANTYPE type) {
    switch (type) {
      case MD_SPAN_EM: style_.italic = false; break;
      case MD_SPAN_STRONG: style_.bold = false; break;
      case MD_SPAN_CODE: style_.code = false; break;
      case MD_SPAN_A:
      case MD_SPAN_IMG: style_.link.clear(); break;
      default: break;
    }
  }

  void text(MD_TEXTTYPE type, std::string_view letters) {
    if (blocks_.empty()) return;
    if (blocks_.back().kind == MarkdownKind::code) {
      blocks_.back().code += letters;
      return;
    }
    if (line_ == nullptr || type == MD_TEXT_NULLCHAR) return;
    MarkdownSpan span = style_;
    span.text = type == MD_TEXT_BR || type == MD_TEXT_SOFTBR ? " " : std::string(letters);
    if (blocks_.back().kind == MarkdownKind::table) unescapeBars(span.text);
    line_->push_back(std::move(span));
  }

  std::vector<MarkdownBlock> take() { return std::move(blocks_); }

 private:
  int depth() const { return static_cast<int>(next_numbers_.size()); }

  void begin(MarkdownKind kind, int level) {
    blocks_.emplace_back();
    blocks_.back().kind = kind;
    blocks_.back().level = level;
    line_ = &blocks_.back().line;
  }

  void beginItem() {
    begin(MarkdownKind::item, depth());
    int& number = next_numbers_.back();
    blocks_.back().marker = number == 0 ? "\u2022" : fmt::format("{}.", number++);
  }

  // The first paragraph of an item is the item itself.
  void beginParagraph() {
    const bool in_item = depth() > 0;
    const bool is_first = in_item && blocks_.back().kind == MarkdownKind::item && blocks_.back().line.empty();
    if (!is_first) begin(in_item ? MarkdownKind::item : MarkdownKind::paragraph, depth());
  }

  // In a table a bar within code is written "\|".
  static void unescapeBars(std::string& text) {
    for (std::size_t at = text.find("\\|"); at != std::string::npos; at = text.find("\\|", at))
      text.erase(at, 1);
  }

  std::vector<MarkdownBlock> blocks_;
  std::vector<int> next_numbers_;  // of the lists we are in, the innermost last; 0: without numbers
  MarkdownSpan style_;
  MarkdownLine* line_ = nullptr;  // that text goes to
};

PageBuilder& builder(void* user) { return *static_cast<PageBuilder*>(user); }

int enterBlock(MD_BLOCKTYPE type, void* detail, void* user) {
  builder(user).enter(type, detail);
  return 0;
}

int leaveBlock(MD_BLOCKTYPE type, void* /*detail*/, void* user) {
  builder(user).leave(type);
  return 0;
}

int enterSpan(MD_SPANTYPE type, void* detail, void* user) {
  builder(user).enter(type, detail);
  return 0;
}

int leaveSpan(MD_SPANTYPE type, void* /*detail*/, void* user) {
  builder(user).leave(type);
  return 0;
}

int addText(MD_TEXTTYPE type, const MD_CHAR* text, MD_SIZE size, void* user) {
  builder(user).text(type, {text, size});
  return 0;
}

}  // namespace

std::vector<MarkdownBlock> parseMarkdown(std::string_view text) {
  PageBuilder page;
  MD_PARSER parser{};
  parser.flags = MD_FLAG_TABLES | MD_FLAG_NOHTML | MD_FLAG_NOINDENTEDCODEBLOCKS;
  parser.enter_block = &enterBlock;
  parser.leave_block = &leaveBlock;
  parser.enter_span = &enterSpan;
  parser.leave_span = &leaveSpan;
  parser.text = &addText;
  md_parse(text.data(), static_cast<MD_SIZE>(text.size()), &parser, &page);
  return page.take();
}

std::string plainText(const MarkdownLine& line) {
  std::string text;
  for (const MarkdownSpan& span : line) text += span.text;
  return text;
}

std::string headingAnchor(std::string_view heading) {
  std::string anchor;
  for (const char c : heading) {
    const auto letter = static_cast<unsigned char>(c);
    if (c == ' ' || c == '-')
      anchor += '-';
    else if (letter >= 0x80 || c == '_' || std::isalnum(letter) != 0)
      anchor += static_cast<char>(letter < 0x80 ? std::tolower(letter) : letter);
  }
  return anchor;
}

}  // namespace petalproof::window
