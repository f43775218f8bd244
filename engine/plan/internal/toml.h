#pragma once
// toml++, compiled once (in toml.cc) and never throwing.

#define TOML_HEADER_ONLY 0
#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>
