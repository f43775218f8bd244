#include "viewer/window/panels/table_fields.h"

#include "viewer/app/field_text.h"
#include "viewer/window/panels/file_chooser.h"

#include <algorithm>
#include <cctype>
#include <string_view>
#include <utility>
#include <vector>

namespace petalproof::window {
namespace fs = std::filesystem;
namespace {

constexpr float example_alpha = 0.75F;

constexpr const char* grid_example =
    "sun\tdrift\tsun\n"
    "drift\tsun\tdrift\n"
    "\n"
    "A name in each cell; empty: no panel.";
constexpr const char* blooms_example =
    "name\tshape\tsize\tcount\tcolour\n"
    "ember\tdahlia\t17\t9\trust\n"
    "bud\tbud\t3.5\t40\tcream\n"
    "\n"
    "In any order, with whatever headings.";

// True for a text that can be read as a list of blooms; the wall's cells can't, since they have no headings.
bool isListOfBlooms(const std::string& text) {
  tables::TablesInput input;
  input.blooms = tables::TableFile{"", text};
  input.panel = "24x20";
  input.size = "96x80";
  return static_cast<bool>(tables::planFromTables(input));
}

// A list of blooms that can't be read yet still has sizes and counts. The wall's cells have only names, apart
// from row numbers at the beginning of lines, which don't count here.
bool hasNumbers(std::string_view text) {
  char before = '\n';
  for (const char c : text) {
    const bool starts_cell = before == ',' || before == ';' || before == '\t';
    if (starts_cell && std::isdigit(static_cast<unsigned char>(c)) != 0) return true;
    before = c;
  }
  return false;
}

// True for the wall's cells, false for the list of blooms. The file's name decides first.
bool isGrid(const fs::path& file, const std::string& text) {
  std::string name = file.filename().string();
  std::transform(name.begin(), name.end(), name.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  const auto isCalled = [&name](const char* word) { return name.find(word) != std::string::npos; };
  if (isCalled("grid") || isCalled("wall") || isCalled("layout")) return true;
  if (isCalled("bloom")) return false;
  return !isListOfBlooms(text) && !hasNumbers(text);
}

using Row = std::vector<std::string>;

std::vector<Row> rowsOf(std::string_view example) {
  std::vector<Row> rows(1, Row(1));
  for (const char c : example) {
    if (c == '\n')
      rows.emplace_back(1);
    else if (c == '\t')
      rows.back().emplace_back();
    else
      rows.back().back() += c;
  }
  return rows;
}

// Draws an example that shows through the empty field over it, in columns as in a spreadsheet.
void drawExample(const Ui& ui, const char* example, ImVec2 size) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const ImVec2 room = ImGui::GetStyle().FramePadding;
  const ImVec4 clip(at.x, at.y, at.x + size.x, at.y + size.y);
  const std::vector<Row> rows = rowsOf(example);
  std::vector<float> left(1, at.x + room.x);  // of each column
  for (std::size_t column = 0;; ++column) {
    float width = 0;
    for (const Row& row : rows)
      if (column + 1 < row.size()) width = std::max(width, ImGui::CalcTextSize(row[column].c_str()).x);
    if (width <= 0) break;
    left.push_back(left.back() + width + 16 * ui.scale);
  }
  for (std::size_t row = 0; row < rows.size(); ++row)
    for (std::size_t column = 0; column < rows[row].size(); ++column) {
      const float down = static_cast<float>(row) * ui.fonts.text->FontSize;
      ImGui::GetWindowDrawList()->AddText(
          ui.fonts.text, ui.fonts.text->FontSize, {left[column], at.y + room.y + down},
          faded(ui.theme.faint, example_alpha), rows[row][column].c_str(), nullptr, 0, &clip);
    }
}

// Draws words faintly in the empty field drawn last.
void drawFaintly(const Ui& ui, const std::string& words) {
  const ImVec2 at = ImGui::GetItemRectMin();
  const ImVec2 room = ImGui::GetStyle().FramePadding;
  drawText(*ImGui::GetWindowDrawList(), ui.fonts.text, faded(ui.theme.faint, example_alpha),
           {at.x + room.x, at.y + room.y}, words);
}

std::string sizeWords(const plan::Size& size) {
  return app::numberText(size.width.value, 2) + " x " + app::numberText(size.height.value, 2);
}

}  // namespace

void TableFields::take(const fs::path& file, std::string text) {
  std::string& table = isGrid(file, text) ? grid_ : blooms_;
  table = std::move(text);
  folder_ = file.parent_path();
  changed_ = true;
}

tables::TablesInput TableFields::input() const {
  tables::TablesInput input;
  if (!grid_.empty()) input.grid = tables::TableFile{"the wall's cells", grid_};
  if (!blooms_.empty()) input.blooms = tables::TableFile{"the list of blooms", blooms_};
  input.panel = panel_;
  input.size = size_;
  return input;
}

void TableFields::drawTable(const Ui& ui, const char* words, const char* example, std::string& text,
                            ImVec2 size) {
  ImGui::BeginGroup();
  ImGui::PushID(words);
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(words);
  const float button = ImGui::CalcTextSize("Paste").x + 2 * ImGui::GetStyle().FramePadding.x;
  ImGui::SameLine(size.x - button);
  if (ImGui::Button("Paste")) {
    const char* const pasted = ImGui::GetClipboardText();
    std::string table = pasted ? pasted : "";
    // The list of blooms goes to its own field, wherever it was pasted.
    (isListOfBlooms(table) ? blooms_ : text) = std::move(table);
    changed_ = true;
  }
  if (text.empty()) drawExample(ui, example, size);
  if (editText("##table", text, size)) changed_ = true;
  ImGui::PopID();
  ImGui::EndGroup();
}

// The size of a panel, and of the wall where no cells give it.
void TableFields::drawSizes(const Ui& ui, const plan::Plan* made) {
  const auto field = [&](const char* label, std::string& text, const std::string& guess, const char* words) {
    const auto typed = fields_.text(label, text, 80 * ui.scale);
    if (typed) text = *typed;
    changed_ |= typed.has_value();
    if (text.empty() && !ImGui::IsItemActive()) drawFaintly(ui, guess);
    help(words);
  };
  const std::string guess = made ? sizeWords(made->wall.panel) : "";
  field("one panel, wide x high", panel_, guess,
        "Its width and height, such as 24x20. Left empty, it is guessed.");
  if (!grid_.empty() && size_.empty()) return;
  ImGui::SameLine(0, 18 * ui.scale);
  field("the wall, wide x high, about", size_, "",
        "Where no cells are given: its width and height, such as 96x96");
}

bool TableFields::draw(const Ui& ui, const plan::Plan* made) {
  remark(ui,
         "Copy the cells in your spreadsheet and paste them here, or drop two CSV files onto the window: "
         "which layout hangs where, row by row, and the list of blooms with size, number and colour.");
  const float half = (ImGui::GetContentRegionAvail().x - 10 * ui.scale) / 2;
  const float high = std::max(96 * ui.scale, ImGui::GetContentRegionAvail().y * 0.27F);
  drawTable(ui, "The wall's cells", grid_example, grid_, {half, high});
  ImGui::SameLine(0, 10 * ui.scale);
  drawTable(ui, "The list of blooms", blooms_example, blooms_, {half, high});
  drawSizes(ui, made);
  if (!changed_ || ImGui::IsAnyItemActive()) return false;
  return std::exchange(changed_, false);
}

}  // namespace petalproof::window
