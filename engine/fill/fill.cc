#include "engine/fill/fill.h"

namespace petalproof::fill {

const char* nameOf(When when) { return when == When::onTheTable ? "on the table" : "after taping"; }

}  // namespace petalproof::fill
