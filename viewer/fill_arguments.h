#pragma once
// What `petalproof fill` is told on the command line.

#include "engine/fill/fill.h"

#include <CLI/App.hpp>

#include <optional>
#include <string>
#include <vector>

namespace petalproof {

struct FillArguments {
  std::string plan;
  std::string out;
  std::string json;
  std::string pictures;
  fill::Hide hide = fill::Hide::shows;
  std::string walls;   // "0" or empty
  std::string spares;  // "15,10" or "15,10,3"; empty: the default
  bool start_over = false;
  std::vector<std::string> shots;
  int threads = 0;
  bool quiet = false;
};

// Refers to `arguments`, which must outlive `app`.
void addFillOptions(CLI::App& app, FillArguments& arguments);

// What is wrong with them and what would be right; nothing where they are right.
std::optional<std::string> whyNotOptions(const FillArguments& arguments);

// Precondition: whyNotOptions is nothing.
fill::FillOptions optionsFrom(const FillArguments& arguments);

}  // namespace petalproof
