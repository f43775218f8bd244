// The one place where toml++ is compiled.
#define TOML_IMPLEMENTATION
#include "engine/plan/internal/toml.h"
