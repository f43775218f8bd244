#pragma once
#include <span>

namespace petalproof::window {

struct HelpPart {
  const char* title;
  const char* words;
};

// The help page, part by part.
std::span<const HelpPart> helpParts();

}  // namespace petalproof::window
