#pragma once
// The arguments of `petalproof fill`: declares them to the command line, checks them and makes the filling's
// options of them. The command calls these in that order.

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

// Declares the options. `app` fills `arguments` in when it parses, so they must outlive it.
void addFillOptions(CLI::App& app, FillArguments& arguments);

// Says which argument is wrong and what would be right; nothing where all are right.
std::optional<std::string> whyNotOptions(const FillArguments& arguments);

// Precondition: whyNotOptions() found nothing.
fill::FillOptions optionsFrom(const FillArguments& arguments);

}  // namespace petalproof
