#pragma once
// The repository's own files, for tests about the repository.

#include <filesystem>
#include <string>
#include <vector>

namespace petalproof::repository {

std::filesystem::path sourceRoot();

// Files below a folder of the repository with one of these endings, sorted.
std::vector<std::filesystem::path> filesBelow(const std::string& folder,
                                              const std::vector<std::string>& endings);

std::string textOf(const std::filesystem::path& file);

// The repository's headers that a source text includes, as written between the quotation marks.
std::vector<std::string> includesIn(const std::string& source);

// Why `includer` (a path from the root) may not include `header`; empty where it may.
std::string whyNotInclude(const std::string& includer, const std::string& header);

// The paths that a page names between backticks.
std::vector<std::string> pathsNamedIn(const std::string& page);

}  // namespace petalproof::repository
