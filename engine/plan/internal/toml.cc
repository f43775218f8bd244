// Compiles toml++ for the whole engine.
#define TOML_IMPLEMENTATION
#include "engine/plan/internal/toml.h"
