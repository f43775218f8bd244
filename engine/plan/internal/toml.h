#pragma once
// Includes toml++, set up to be compiled once (in toml.cc) and never to throw.

#define TOML_HEADER_ONLY 0
#define TOML_ENABLE_FORMATTERS 0
// Its own assertions fire on damaged keys that it goes on to report: no input may end the process.
#define TOML_ASSERT(expr) static_assert(true)
#include <toml++/toml.h>
