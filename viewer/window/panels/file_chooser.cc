#include "viewer/window/panels/file_chooser.h"

#include "viewer/window/places.h"

#include <GLFW/glfw3.h>

#include <array>
#include <cstring>
#include <utility>

namespace petalproof::window {
namespace fs = std::filesystem;
namespace {

// Lets Dear ImGui's field resize the string that it edits.
int grow(ImGuiInputTextCallbackData* data) {
  if (data->EventFlag != ImGuiInputTextFlags_CallbackResize) return 0;
  auto& text = *static_cast<std::string*>(data->UserData);
  text.resize(static_cast<std::size_t>(data->BufTextLen));
  data->Buf = text.data();
  return 0;
}

}  // namespace

bool editText(const char* label, std::string& text, ImVec2 size) {
  return ImGui::InputTextMultiline(label, text.data(), text.capacity() + 1, size,
                                   ImGuiInputTextFlags_CallbackResize | ImGuiInputTextFlags_AllowTabInput,
                                   grow, &text);
}

void FileChooser::begin(const fs::path& folder, std::string name) {
  name_ = std::move(name);
  takes_focus_ = true;
  goTo(folder.empty() ? homeFolder() : folder);
}

void FileChooser::goTo(const fs::path& folder) {
  auto listed = app::listFolder(folder, {".toml"});
  problem_ = listed ? "" : toString(listed.problems.front());
  if (!listed) return;
  folder_ = folder;
  entries_ = std::move(*listed.value);
}

// Draws the folders on the way to this folder; a click on a folder goes back to it.
void FileChooser::drawWay(const Ui& ui) {
  fs::path folder;
  std::optional<fs::path> chosen;
  const float right = ImGui::GetCursorScreenPos().x + ImGui::GetContentRegionAvail().x;
  int number = 0;
  for (const fs::path& part : folder_) {
    folder /= part;
    const std::string word = part.string();
    if (number > 0 && ImGui::GetItemRectMax().x + ImGui::CalcTextSize(word.c_str()).x + 30 * ui.scale < right)
      ImGui::SameLine(0, 4 * ui.scale);
    ImGui::PushID(number++);
    if (ImGui::SmallButton(word.c_str())) chosen = folder;
    ImGui::PopID();
  }
  if (chosen) goTo(*chosen);
}

std::optional<fs::path> FileChooser::draw(const Ui& ui, float height, bool naming) {
  std::optional<fs::path> file;
  drawWay(ui);
  if (!problem_.empty()) remark(ui, problem_);
  const float below = naming ? ImGui::GetFrameHeightWithSpacing() : 0;
  const fs::path here = folder_;
  ImGui::BeginChild("files", {0, height - below}, true, walked_through);
  for (const app::FolderEntry& entry : std::vector<app::FolderEntry>(entries_)) {
    const std::string words = entry.is_folder ? entry.name + " /" : entry.name;
    if (!ImGui::Selectable(words.c_str(), entry.name == name_, ImGuiSelectableFlags_DontClosePopups))
      continue;
    if (entry.is_folder)
      goTo(here / entry.name);
    else if (naming)
      name_ = entry.name;
    else
      file = here / entry.name;
  }
  if (entries_.empty()) ImGui::TextDisabled("No plan in this folder.");
  ImGui::EndChild();
  if (!naming) return file;
  constexpr std::size_t longest_name = 256;  // as of most file systems
  std::array<char, longest_name> letters{};
  std::memcpy(letters.data(), name_.data(), std::min(name_.size(), letters.size() - 1));
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - 90 * ui.scale);
  if (std::exchange(takes_focus_, false)) ImGui::SetKeyboardFocusHere();
  const bool entered =
      ImGui::InputText("##name", letters.data(), letters.size(), ImGuiInputTextFlags_EnterReturnsTrue);
  name_ = letters.data();
  ImGui::SameLine();
  if ((ImGui::Button("Save here") || entered) && !name_.empty()) {
    file = folder_ / name_;
    if (!file->has_extension()) file->replace_extension(".toml");
  }
  return file;
}

}  // namespace petalproof::window
