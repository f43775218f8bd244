#include "engine/scene/arrange.h"

#include "tests/arrange/measures.h"
#include "tests/arrange/random_tables.h"

#include <doctest/doctest.h>

TEST_CASE("placeholder") {}
