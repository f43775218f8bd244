// A folder of the engine includes only those before it, nobody includes what is private to another.

#include "tests/repository/source_files.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>

using namespace petalproof::repository;

TEST_CASE("the rule about includes tells right from wrong") {
  CHECK(whyNotInclude("engine/gaps/gaps.cc", "engine/base/grid.h") == "");
  CHECK(whyNotInclude("engine/gaps/gaps.cc", "engine/gaps/internal/edt.h") == "");
  CHECK(whyNotInclude("viewer/main.cc", "engine/report/png.h") == "");
  CHECK(whyNotInclude("tests/gaps/edt_test.cc", "engine/gaps/internal/edt.h") == "");
  CHECK(whyNotInclude("engine/base/file.cc", "engine/plan/plan.h") == "engine/base comes before engine/plan");
  CHECK(whyNotInclude("engine/scene/scene.cc", "engine/camera/camera.h") ==
        "engine/scene comes before engine/camera");
  CHECK(whyNotInclude("engine/report/png.cc", "viewer/output.h") != "");
  CHECK(whyNotInclude("viewer/app/session.cc", "engine/check/check.h") == "");
  CHECK(whyNotInclude("viewer/window/screen.cc", "viewer/app/state.h") == "");
  CHECK(whyNotInclude("viewer/window/panels/desk.cc", "viewer/window/ui.h") == "");
  CHECK(whyNotInclude("viewer/window/screen.cc", "viewer/gl/canvas.h") == "");
  CHECK(whyNotInclude("viewer/window/screen.cc", "viewer/command.h") ==
        "viewer/window doesn't know viewer/commands");
  CHECK(whyNotInclude("viewer/view_command.cc", "viewer/window/window.h") == "");
  CHECK(whyNotInclude("tests/app/journal_test.cc", "viewer/app/internal/journal_text.h") == "");
  CHECK(whyNotInclude("viewer/app/session.cc", "viewer/gl/canvas.h") == "viewer/app doesn't know viewer/gl");
  CHECK(whyNotInclude("viewer/gl/canvas.cc", "viewer/app/state.h") == "viewer/gl doesn't know viewer/app");
  CHECK(whyNotInclude("viewer/app/session.cc", "viewer/output.h") ==
        "viewer/app doesn't know viewer/commands");
  CHECK(whyNotInclude("viewer/fill_command.cc", "viewer/app/fill_job.h") ==
        "viewer/commands doesn't know viewer/app");
  CHECK(whyNotInclude("viewer/window/screen.cc", "viewer/app/internal/picked.h") ==
        "the header is private to its folder");
  CHECK(whyNotInclude("viewer/main.cc", "engine/gaps/internal/edt.h") ==
        "the header is private to its folder");
  CHECK(whyNotInclude("engine/report/png.cc", "engine/gaps/internal/edt.h") ==
        "the header is private to its folder");
  CHECK(whyNotInclude("engine/report/png.cc", "png.h") != "");
}

TEST_CASE("every include in the repository follows the rule") {
  int seen = 0;
  for (const char* folder : {"engine", "viewer", "tests"}) {
    for (const auto& file : filesBelow(folder, {".h", ".cc"})) {
      const std::string name = std::filesystem::relative(file, sourceRoot()).generic_string();
      for (const std::string& header : includesIn(textOf(file))) {
        INFO(name, " includes ", header);
        CHECK(whyNotInclude(name, header) == "");
        CHECK(std::filesystem::exists(sourceRoot() / header));
        ++seen;
      }
    }
  }
  CHECK(seen > 100);
}
