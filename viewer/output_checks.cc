#include "viewer/output_checks.h"

#include <fstream>
#include <system_error>

namespace petalproof {
namespace fs = std::filesystem;
namespace {

bool startsWith(const fs::path& path, std::string_view signature) {
  std::ifstream file(path, std::ios::binary);
  std::string start(signature.size(), '\0');
  file.read(start.data(), static_cast<std::streamsize>(start.size()));
  return file && start == signature;
}

}  // namespace

std::optional<std::string> whyNotReplaceReport(const fs::path& there, std::string_view signature) {
  std::error_code error;
  if (fs::is_regular_file(fs::symlink_status(there, error)) && startsWith(there, signature))
    return std::nullopt;
  return "exists already and is not a report of petalproof; name a new file";
}

}  // namespace petalproof
