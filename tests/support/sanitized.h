#pragma once
// Whether the tests are compiled with a sanitizer, under which they take many times as long.

namespace petalproof::testing {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool sanitized = true;
#else
constexpr bool sanitized = false;
#endif

// How many of the random cases of a test to look at.
template <class Count>
constexpr Count fewerIfSanitized(Count cases) {
  return sanitized ? (cases + 3) / 4 : cases;
}

}  // namespace petalproof::testing
