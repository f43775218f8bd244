#include "viewer/window/markdown_view.h"

#include "viewer/window/styled_words.h"

#include <algorithm>

namespace petalproof::window {
namespace {

constexpr float indent = 18;       // of a list, at 96 dots an inch
constexpr float right_margin = 8;  // beside the scroll bar
constexpr float cell_padding = 8;  // left and right of a cell's words

class PageView {
 public:
  PageView(const Ui& ui, const MarkdownViewOptions& options) : ui_(ui), options_(options) {}

  void draw(const MarkdownBlock& block) {
    switch (block.kind) {
      case MarkdownKind::heading: return drawHeading(block);
      case MarkdownKind::paragraph: return drawParagraph(block);
      case MarkdownKind::item: return drawItem(block);
      case MarkdownKind::code: return drawCode(block);
      case MarkdownKind::table: return drawTable(block);
    }
  }

  std::optional<std::string> takePressed() { return std::move(pressed_); }

 private:
  // Up to a little before the scroll bar.
  float room() const { return ImGui::GetContentRegionAvail().x - right_margin * ui_.scale; }
  void gap(float pixels) const { ImGui::Dummy({0, pixels * ui_.scale}); }

  void words(const MarkdownLine& line, ImFont* plain, float width) {
    if (auto link = drawWords(styledWords(line, ui_.fonts, plain), ui_, width, options_.opens))
      pressed_ = std::move(link);
  }

  void drawHeading(const MarkdownBlock& block) {
    if (block.level > 1) gap(block.level == 2 ? 10.0F : 4.0F);
    if (!options_.scroll_to.empty() && headingAnchor(plainText(block.line)) == options_.scroll_to)
      ImGui::SetScrollHereY(0);
    ImFont* const font = block.level == 1 ? ui_.fonts.title : ui_.fonts.bold;
    ImGui::PushFont(font);
    words(block.line, font, room());
    ImGui::PopFont();
    if (block.level <= 2) ImGui::Separator();
    gap(2);
  }

  void drawParagraph(const MarkdownBlock& block) {
    words(block.line, ui_.fonts.text, room());
    gap(2);
  }

  void drawItem(const MarkdownBlock& block) {
    const float by = indent * ui_.scale * static_cast<float>(block.level);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 size = ImGui::CalcTextSize(block.marker.c_str());
    ImGui::GetWindowDrawList()->AddText({at.x + by - size.x - 5 * ui_.scale, at.y},
                                        ImGui::GetColorU32(ImGuiCol_Text), block.marker.c_str());
    ImGui::Indent(by);
    words(block.line, ui_.fonts.text, room());
    ImGui::Unindent(by);
  }

  // On a tinted sheet; a line that is too long goes on below.
  void drawCode(const MarkdownBlock& block) const {
    const ImFont& font = *ui_.fonts.mono;
    const char* const begin = block.code.data();
    const char* const end = begin + block.code.size() - (block.code.ends_with('\n') ? 1 : 0);
    const float inset = 8 * ui_.scale;
    const float width = room();
    const float wrap = std::max(width - 2 * inset, 1.0F);
    const ImVec2 text = font.CalcTextSizeA(font.FontSize, FLT_MAX, wrap, begin, end);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(at, {at.x + width, at.y + text.y + 2 * inset}, faded(ui_.theme.line, 0.3F),
                       3 * ui_.scale);
    list.AddText(&font, font.FontSize, {at.x + inset, at.y + inset}, ImGui::GetColorU32(ImGuiCol_Text), begin,
                 end, wrap);
    ImGui::Dummy({width, text.y + 2 * inset});
    gap(2);
  }

  ImFont* fontOfRow(std::size_t row) const { return row == 0 ? ui_.fonts.bold : ui_.fonts.text; }

  // Columns as wide as their longest word, and of what is left in proportion to what they would take.
  std::vector<float> columnWidths(const MarkdownBlock& block, float available) const {
    const std::size_t columns = block.table.front().size();
    std::vector<WordWidths> wanted(columns);
    for (std::size_t row = 0; row < block.table.size(); ++row)
      for (std::size_t k = 0; k < std::min(columns, block.table[row].size()); ++k) {
        const WordWidths cell = widthsOf(styledWords(block.table[row][k], ui_.fonts, fontOfRow(row)));
        wanted[k].all = std::max(wanted[k].all, cell.all);
        wanted[k].longest = std::max(wanted[k].longest, cell.longest);
      }
    float least = 0;
    float more = 0;
    for (const WordWidths& each : wanted) {
      least += each.longest;
      more += each.all - each.longest;
    }
    const float spread = more > 0 ? std::clamp((available - least) / more, 0.0F, 1.0F) : 0;
    const float squeeze = least > available && least > 0 ? available / least : 1;
    std::vector<float> widths;
    for (const WordWidths& each : wanted)
      widths.push_back((each.longest + (each.all - each.longest) * spread) * squeeze);
    return widths;
  }

  void drawTable(const MarkdownBlock& block) {
    if (block.table.empty() || block.table.front().empty()) return;
    const float padding = cell_padding * ui_.scale;
    const auto columns = static_cast<int>(block.table.front().size());
    const float available = room() - 2 * padding * static_cast<float>(columns);
    // A fraction of a pixel may be lost in each column.
    const std::vector<float> widths = columnWidths(block, available - static_cast<float>(columns));
    ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, ImVec2(padding, 4 * ui_.scale));
    constexpr ImGuiTableFlags flags = ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_BordersOuterH |
                                      ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_NoHostExtendX |
                                      ImGuiTableFlags_PadOuterX | ImGuiTableFlags_NoSavedSettings;
    if (ImGui::BeginTable("table", columns, flags)) {
      for (const float width : widths)
        ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthFixed, width + 1);
      for (std::size_t row = 0; row < block.table.size(); ++row) drawRow(block.table[row], widths, row);
      ImGui::EndTable();
    }
    ImGui::PopStyleVar();
    gap(4);
  }

  void drawRow(const std::vector<MarkdownLine>& cells, const std::vector<float>& widths, std::size_t row) {
    ImGui::TableNextRow();
    if (row == 0) ImGui::TableSetBgColor(ImGuiTableBgTarget_RowBg0, faded(ui_.theme.line, 0.3F));
    for (std::size_t k = 0; k < std::min(cells.size(), widths.size()); ++k) {
      ImGui::TableSetColumnIndex(static_cast<int>(k));
      words(cells[k], fontOfRow(row), widths[k] + 1);
    }
  }

  const Ui& ui_;
  const MarkdownViewOptions& options_;
  std::optional<std::string> pressed_;
};

}  // namespace

std::optional<std::string> drawMarkdown(const std::vector<MarkdownBlock>& page, const Ui& ui,
                                        const MarkdownViewOptions& options) {
  PageView view(ui, options);
  for (std::size_t k = 0; k < page.size(); ++k) {
    ImGui::PushID(static_cast<int>(k));
    view.draw(page[k]);
    ImGui::PopID();
  }
  return view.takePressed();
}

}  // namespace petalproof::window
