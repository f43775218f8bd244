#pragma once
// Files, whole: read with a limit, written so that a reader sees the old file or the new one and
// never a part.

#include "engine/base/problem.h"

#include <cstddef>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace petalproof {

// The whole file as bytes. Fails if it can't be read, is a folder, a pipe, a socket or a device, or is larger
// than `limit_bytes` (which is checked before memory is asked for). Only "/dev/stdin" and "/dev/fd/N" may be
// pipes and devices. Problems name the file as `shownAs`.
Result<std::string> readFile(const std::filesystem::path& path, std::size_t limit_bytes,
                             const std::string& shownAs);

enum class Existing { refuse, replace };

// Writes beside the target, then renames. Nothing, or what went wrong ("disk full", "exists already").
// With `refuse`, an existing file is never replaced, also if it appears in between.
std::optional<std::string> writeFile(const std::filesystem::path& path, std::string_view bytes,
                                     Existing existing);

// As writeFile() with Existing::refuse, for a copy of a file that not everybody may read: it has these
// permissions from the start.
std::optional<std::string> writeNewFile(const std::filesystem::path& path, std::string_view bytes,
                                        std::filesystem::perms permissions);

// Says in plain words why a system call failed: "the disk is full" for ENOSPC.
std::string reasonFor(int error_number);

}  // namespace petalproof
