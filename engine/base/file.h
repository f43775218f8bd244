#pragma once
// Reads and writes whole files. Reading has a size limit; writing replaces a file in one step, so that a
// reader sees either the old file or the new file, never a part.

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

// Writes a temporary file beside the target, then renames it. Returns nothing on success, else the reason
// ("the disk is full", "it exists already"). With `refuse`, an existing file is never replaced, even if
// another program creates it meanwhile.
std::optional<std::string> writeFile(const std::filesystem::path& path, std::string_view bytes,
                                     Existing existing);

// The permissions that a copy of this file gets. The copy's group may differ from the file's, so the group
// gets only the permissions that everybody has.
std::filesystem::perms permissionsOfCopy(const std::filesystem::path& original);

// Like writeFile() with Existing::refuse, for the copy of a file with restricted permissions: the new file
// has `permissions` from the start.
std::optional<std::string> writeNewFile(const std::filesystem::path& path, std::string_view bytes,
                                        std::filesystem::perms permissions);

}  // namespace petalproof
