#pragma once
// The folders that the window uses: its own state, the person's files, the demo. Called at the window's start
// and by the file chooser.

#include <filesystem>

namespace petalproof::window {

// For settings and journals: "petalproof" in XDG_STATE_HOME, else in ~/.local/state; empty where neither is
// set.
std::filesystem::path stateFolder();

// Where file choosers begin: HOME, else the folder in which the program was started.
std::filesystem::path homeFolder();

// The folder with the demo: beside the program, or in the repository it was built from; empty where it is
// missing.
std::filesystem::path assetsFolder();

}  // namespace petalproof::window
