#pragma once
// Writes bytes by a system call that may take only a part of them or be interrupted. Files, drafts and
// journals call it.

#include <sys/types.h>

#include <cerrno>
#include <cstddef>
#include <string_view>

namespace petalproof {

// Calls `write(rest)`, which returns as write() does, with the bytes that are still to be written until none
// are left. Returns false where a call failed, with its errno.
template <class Write>
bool writeAll(std::string_view bytes, const Write& write) {
  while (!bytes.empty()) {
    const ssize_t written = write(bytes);
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return true;
}

}  // namespace petalproof
