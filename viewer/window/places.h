#pragma once
#include <filesystem>

namespace petalproof::window {

// Where the program keeps what it remembers for this person: XDG_STATE_HOME, else ~/.local/state; empty where
// there is neither.
std::filesystem::path stateFolder();

// Where a person looks for their files first: HOME, else where the program was started.
std::filesystem::path homeFolder();

// The folder with the demo: beside the program, or where it was built from; empty where there is none.
std::filesystem::path assetsFolder();

}  // namespace petalproof::window
