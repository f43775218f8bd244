#pragma once

namespace petalproof::light {

// How carefully a wall is lit: by every lamp, or by a few, for a look in between that takes a fraction of the
// time.
enum class Lighting { full, rough };

}  // namespace petalproof::light
