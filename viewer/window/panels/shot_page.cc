#include "viewer/window/panels/shot_page.h"

#include "engine/camera/people_framing.h"
#include "viewer/app/field_text.h"
#include "viewer/window/panels/advice_part.h"
#include "viewer/window/panels/shot_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace petalproof::window {
namespace {

// The usual f-numbers, to choose from.
constexpr std::array<double, 10> f_numbers{1.4, 1.8, 2, 2.8, 4, 5.6, 8, 11, 16, 22};

// Limits of sliders, in inches: from close before the wall to across a hall.
constexpr double nearest_in = 12;
constexpr double farthest_in = 360;
constexpr double highest_in = 120;
constexpr double beside_in = 19;        // from a person to the next, shoulder to shoulder
constexpr float shortest_lens_mm = 14;  // of the slider; the field takes any lens
constexpr float longest_lens_mm = 300;
constexpr int most_people = 60;  // of a group in front of a wall

double inUnits(double inches, Units units) { return inches * 25.4 / millimetresPer(units); }

}  // namespace

// Draws the words about the picture. They keep their height while a widget is in use or the check is
// outdated, so that the widgets below don't move.
void ShotPage::drawWords(const Work& work) {
  if (words_high_ > 0 && (ImGui::IsAnyItemActive() || !app::isCurrent(work.state, work.state.shot))) {
    ImGui::BeginChild("words", {0, words_high_}, false,
                      ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    drawShotWords(work.state, work.ui);
    ImGui::EndChild();
    return;
  }
  ImGui::BeginGroup();
  drawShotWords(work.state, work.ui);
  ImGui::EndGroup();
  words_high_ = ImGui::GetItemRectSize().y;
}

void ShotPage::drawNames(Work& work) {
  if (const auto name = fields_.text("name", work.shot.name, work.width)) {
    work.shot.name = *name;
    work.set("name");
  }
  if (const auto label = fields_.text("label", work.shot.label, work.width)) {
    work.shot.label = *label;
    work.set("label");
  }
  if (ImGui::Button("New")) work.actions.emplace_back(app::Edit{app::AddShot{work.shot}});
  help("Another shot that begins as this one, last on the line");
  ImGui::SameLine();
  if (ImGui::Button("Copy")) work.actions.emplace_back(app::Edit{app::CopyShot{work.state.shot}});
  ImGui::SameLine();
  if (ImGui::Button("Delete")) work.actions.emplace_back(app::Edit{app::DeleteShot{work.state.shot}});
}

void ShotPage::drawFramings(Work& work) {
  heading(work.ui, "Frame the people");
  const camera::WallFrame wall = camera::wallFrameOf(work.state.plan());
  int count = 0;
  for (const camera::FramingFacts& facts : camera::allFramings()) {
    if (ImGui::Button(std::string(facts.name).c_str()))
      if (const auto framed = camera::framedFor(work.shot, facts.framing, wall)) {
        work.shot = *framed;
        work.set(std::string(facts.name).c_str());
      }
    help("Moves the camera until the tallest person fills the picture so; it stays on its side.");
    if (count++ % 2 == 0) ImGui::SameLine();
  }
  if (ImGui::Button("group of"))
    if (auto people = camera::peopleSideBySide(work.shot, people_, wall); !people.empty()) {
      work.shot.people = std::move(people);
      if (const auto framed = camera::framedFor(work.shot, camera::Framing::fullLength, wall))
        work.shot = *framed;
      work.set("people");
    }
  help("This many people side by side, from head to foot");
  ImGui::SameLine();
  if (const auto people = fields_.whole("##people", people_, 44 * work.ui.scale))
    people_ = std::clamp(*people, 1, most_people);
}

void ShotPage::drawLens(Work& work) {
  heading(work.ui, "Lens");
  ImGui::SetNextItemWidth(work.width);
  if (const auto slid = sliders_.draw("##lens", work.ui, static_cast<float>(work.shot.lens.mm),
                                      shortest_lens_mm, longest_lens_mm, 1, "", true)) {
    work.shot.lens.mm = slid->value;
    if (work.shot.lens.to_mm && *work.shot.lens.to_mm <= slid->value) work.shot.lens.to_mm.reset();
    work.set("lens", slid->stroke);
  }
  ImGui::SameLine();
  if (const auto mm = fields_.number("mm", work.shot.lens.mm, 1, 52 * work.ui.scale, {"mm"})) {
    work.shot.lens.mm = *mm;
    work.set("lens");
  }
  drawZoom(work);
  std::vector<std::string> stops;
  for (const double stop : f_numbers) stops.push_back(fmt::format("f/{:g}", stop));
  const auto nearest = std::find(f_numbers.begin(), f_numbers.end(), work.shot.aperture);
  const int chosen = nearest == f_numbers.end() ? -1 : static_cast<int>(nearest - f_numbers.begin());
  if (const auto stop = choice("##stop", stops, chosen, 90 * work.ui.scale)) {
    work.shot.aperture = f_numbers[static_cast<std::size_t>(*stop)];
    work.set("aperture");
  }
  ImGui::SameLine();
  if (const auto stop = fields_.number("f-number", work.shot.aperture, 2, 52 * work.ui.scale, {"f/", "F/"})) {
    work.shot.aperture = *stop;
    work.set("aperture");
  }
  help("The smaller the number, the less of the wall is sharp behind the people.");
}

// The far end of a zoom, and whether the millimetres are those of a full frame.
void ShotPage::drawZoom(Work& work) {
  plan::FocalLength& lens = work.shot.lens;
  if (const auto typed =
          fields_.optionalNumber("mm, a zoom's far end", lens.to_mm, 1, 52 * work.ui.scale, {"mm"})) {
    lens.to_mm = *typed;
    work.set("zoom");
  }
  help(
      "Left empty, a lens of one length. Of a zoom, pictures are taken with its short end; advice uses "
      "both.");
  if (ImGui::Checkbox("as on a full frame", &lens.full_frame_equivalent)) work.set("lens");
  help("The millimetres are those of a lens that would show as much on a full frame, as phones give them.");
}

void ShotPage::slide(Work& work, const char* label, Length plan::Shot::*length, float low, float high) {
  const Units units = work.state.plan().units;
  const float step = static_cast<float>(units == Units::inch ? 0.5 : units == Units::centimetre ? 1 : 10);
  const float value = static_cast<float>((work.shot.*length).value);
  ImGui::PushID(label);
  ImGui::SetNextItemWidth(work.width - 64 * work.ui.scale);
  if (const auto slid =
          sliders_.draw("##slide", work.ui, value, std::min(low, value), std::max(high, value), step, "")) {
    work.shot.*length = {slid->value};
    work.set(label, slid->stroke);
  }
  ImGui::SameLine();
  if (const auto typed = fields_.length(label, work.shot.*length, units, 60 * work.ui.scale)) {
    work.shot.*length = *typed;
    work.set(label);
  }
  ImGui::PopID();
}

void ShotPage::drawStand(Work& work) {
  heading(work.ui, "Where the camera stands, and looks");
  const Units units = work.state.plan().units;
  const plan::Size wall = plan::wallOutline(work.state.plan().wall);
  const float half = static_cast<float>(wall.width.value);
  const float far = static_cast<float>(inUnits(farthest_in, units));
  const float high = static_cast<float>(inUnits(highest_in, units));
  slide(work, "distance", &plan::Shot::camera_out, static_cast<float>(inUnits(nearest_in, units)), far);
  slide(work, "height", &plan::Shot::camera_above_floor, 0, high);
  slide(work, "side step", &plan::Shot::camera_right, -half, half);
  slide(work, "aim across", &plan::Shot::aim_right, -half / 2, half / 2);
  slide(work, "aim height", &plan::Shot::aim_above_floor, 0, high);
  bool on_eyes = !work.shot.focus;
  if (ImGui::Checkbox("focus on the nearest eyes", &on_eyes)) {
    work.shot.focus = on_eyes ? std::nullopt : std::optional(work.shot.camera_out);
    work.set("focus");
  }
  if (!work.shot.focus) return;
  if (const auto focus = fields_.length("focus distance", *work.shot.focus, units, 60 * work.ui.scale)) {
    work.shot.focus = *focus;
    work.set("focus");
  }
}

void ShotPage::drawPerson(Work& work, std::size_t number) {
  const Units units = work.state.plan().units;
  const float width = 56 * work.ui.scale;
  plan::Person& person = work.shot.people[number];
  ImGui::PushID(static_cast<int>(number));
  const auto field = [&](const char* id, Length& length, const char* words) {
    if (const auto typed = fields_.length(id, length, units, width)) {
      length = *typed;
      work.set("people");
    }
    help(words);
    ImGui::SameLine();
  };
  field("##tall", person.height, "How tall");
  field("##right", person.right_of_centre, "Right of the wall's middle; below 0 left");
  field("##out", person.out_from_board, "Out from the board");
  if (ImGui::Button("x")) {
    work.shot.people.erase(work.shot.people.begin() + static_cast<std::ptrdiff_t>(number));
    work.set("people");
  }
  help("Removes this person");
  ImGui::PopID();
}

void ShotPage::drawPeople(Work& work) {
  heading(work.ui, "People");
  if (!work.shot.people.empty()) remark(work.ui, "tall, right of the middle, out from the board");
  const std::size_t count = work.shot.people.size();
  for (std::size_t k = 0; k < count && work.shot.people.size() == count; ++k) drawPerson(work, k);
  if (!ImGui::Button("Add a person")) return;
  plan::Person person =
      work.shot.people.empty()
          ? camera::peopleSideBySide(work.shot, 1, camera::wallFrameOf(work.state.plan())).front()
          : work.shot.people.back();
  if (!work.shot.people.empty()) person.right_of_centre.value += inUnits(beside_in, work.state.plan().units);
  work.shot.people.push_back(person);
  work.set("people");
}

app::Actions ShotPage::draw(const app::State& state, const Ui& ui) {
  app::Actions actions;
  const std::vector<plan::Shot> shots = app::shotsOf(state.plan());
  if (static_cast<std::size_t>(state.shot) >= shots.size()) return actions;
  Work work{state, ui, shots[static_cast<std::size_t>(state.shot)], actions,
            ImGui::GetContentRegionAvail().x - 96 * ui.scale};
  ImGui::PushID(state.shot);
  drawNames(work);
  drawWords(work);
  drawAdvice(state, ui, actions);
  drawFramings(work);
  drawLens(work);
  drawStand(work);
  picture_.draw(work);
  drawPeople(work);
  ImGui::PopID();
  return actions;
}

}  // namespace petalproof::window
