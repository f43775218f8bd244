#pragma once
// Says why an existing file must not be replaced, without the file's name. output.h asks before the work,
// write_outputs.h while the files take their places.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof {

constexpr const char* not_written_by_us =
    "is a file that petalproof did not write; move it away, or name another folder";
constexpr const char* changed_since =
    "was changed since petalproof wrote it; move it away, or name another folder";

// A report may be replaced by a report that begins in the same way.
std::optional<std::string> whyNotReplaceReport(const std::filesystem::path& there,
                                               std::string_view signature);

}  // namespace petalproof
