#include "tests/repository/source_files.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <optional>
#include <regex>
#include <sstream>

namespace petalproof::repository {
namespace fs = std::filesystem;
namespace {

// A folder of the engine includes only itself and those before it.
constexpr std::array<const char*, 18> engine_order = {
    "base",    "plan",    "tables", "scene",  "arrange", "camera",     "visibility", "gaps",  "light",
    "picture", "reading", "check",  "advice", "cover",   "candidates", "fill",       "hands", "report"};

std::optional<std::ptrdiff_t> rankOf(const std::string& folder) {
  const auto* const at = std::find(engine_order.begin(), engine_order.end(), folder);
  if (at == engine_order.end()) return std::nullopt;
  return at - engine_order.begin();
}

std::vector<std::string> partsOf(const std::string& path) {
  std::vector<std::string> parts;
  for (const auto& part : fs::path(path)) parts.push_back(part.string());
  return parts;
}

std::vector<std::string> matches(const std::string& text, const std::regex& pattern) {
  std::vector<std::string> found;
  for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it) {
    found.push_back((*it)[1].str());
  }
  return found;
}

bool isInternal(const std::vector<std::string>& header) {
  return std::find(header.begin(), header.end(), "internal") != header.end();
}

std::string whyNotEngineHeader(const std::vector<std::string>& includer,
                               const std::vector<std::string>& header) {
  const auto wanted = rankOf(header[1]);
  if (!wanted) return "engine/" + header[1] + " is no step of the engine";
  const bool from_engine = includer[0] == "engine" && includer.size() > 2;
  const bool same_folder = from_engine && includer[1] == header[1];
  if (isInternal(header) && !same_folder && includer[0] != "tests")
    return "the header is private to its folder";
  if (!from_engine) return "";
  const auto own = rankOf(includer[1]);
  if (!own) return "engine/" + includer[1] + " is no step of the engine";
  return *wanted <= *own ? "" : "engine/" + includer[1] + " comes before engine/" + header[1];
}

// The application knows no window, what draws knows no application; both know the engine, the window both.
// The commands open the window and know neither how it is made nor what it holds; of them it knows only where
// files go (viewer/output.h).
std::string whyNotViewerHeader(const std::vector<std::string>& includer,
                               const std::vector<std::string>& header) {
  const auto partOf = [](const std::vector<std::string>& path) {
    return path.size() > 2 ? path[1] : std::string("commands");
  };
  if (includer[0] == "tests") return "";
  if (includer[0] != "viewer") return "only the viewer and tests know the viewer";
  const std::string from = partOf(includer);
  const std::string to = partOf(header);
  if (isInternal(header) && from != to) return "the header is private to its folder";
  if (from == to || (from == "window" && to != "commands") || (from == "commands" && to == "window"))
    return "";
  return "viewer/" + from + " doesn't know viewer/" + to;
}

}  // namespace

fs::path sourceRoot() { return PETALPROOF_SOURCE_DIR; }

std::vector<fs::path> filesBelow(const std::string& folder, const std::vector<std::string>& endings) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::recursive_directory_iterator(sourceRoot() / folder)) {
    const auto ending = entry.path().extension().string();
    if (entry.is_regular_file() && std::find(endings.begin(), endings.end(), ending) != endings.end()) {
      files.push_back(entry.path());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::string textOf(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::vector<std::string> includesIn(const std::string& source) {
  return matches(source, std::regex("(?:^|\n)[ \t]*#[ \t]*include[ \t]*\"([^\"]+)\""));
}

std::string whyNotInclude(const std::string& includer, const std::string& header) {
  const auto from = partsOf(includer);
  const auto to = partsOf(header);
  if (to.size() < 2) return "includes are written from the repository's root";
  if (to[0] == "engine" && to.size() > 2) return whyNotEngineHeader(from, to);
  if (to[0] == "viewer") return whyNotViewerHeader(from, to);
  if (to[0] == "tests") return from[0] == "tests" ? "" : "only tests include tests";
  return "includes are written from the repository's root";
}

std::vector<std::string> pathsNamedIn(const std::string& page) {
  std::vector<std::string> paths;
  const std::regex path(
      "^(?:engine|viewer|tests|assets|shaders|third_party|\\.ci)(?:/[A-Za-z0-9_.-]*)*$|"
      "^(?:CMakeLists\\.txt|CMakePresets\\.json|README\\.md|DEVELOPERS\\.md|"
      "\\.clang-format|\\.clang-tidy|\\.gitignore)$");
  for (const std::string& quoted : matches(page, std::regex("`([^`\n]+)`"))) {
    if (std::regex_match(quoted, path)) paths.push_back(quoted);
  }
  for (const std::string& target : matches(page, std::regex("\\]\\(([^)#:\n]+)(?:#[^)\n]*)?\\)"))) {
    paths.push_back(target);
  }
  return paths;
}

}  // namespace petalproof::repository
