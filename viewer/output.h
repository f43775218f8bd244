#pragma once
// Where a command's files go. Nobody's file is ever overwritten: a folder must be new, empty, or one that
// this program made (it leaves a marker in it that lists its files); a report is replaced only by a
// report of the same kind.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof {

struct NamedFile {
  std::string name;  // without folders
  std::string bytes;
};

// Why files can't go into this folder, in words; nothing where they can. Changes nothing.
std::optional<std::string> whyNotFolder(const std::filesystem::path& folder);

// Writes the files whole, one after the other, and removes those an earlier call wrote that are not
// among them. Precondition: whyNotFolder is nothing. Returns what went wrong.
std::optional<std::string> writeFolder(const std::filesystem::path& folder,
                                       const std::vector<NamedFile>& files);

// Why a report that starts with `signature` can't go to this file; a report of the same kind may be
// replaced. Changes nothing.
std::optional<std::string> whyNotReport(const std::filesystem::path& path, std::string_view signature);

// Why a file of somebody's own can't be made here: one that exists is never replaced. Changes nothing.
std::optional<std::string> whyNotNewFile(const std::filesystem::path& path);

// Writes a file that isn't there yet; a device or pipe is written to as it is. Returns what went wrong.
std::optional<std::string> writeNewFile(const std::filesystem::path& path, std::string_view bytes);

// Writes the report whole; a device or pipe is written to as it is. Returns what went wrong.
std::optional<std::string> writeReport(const std::filesystem::path& path, std::string_view bytes);

}  // namespace petalproof
