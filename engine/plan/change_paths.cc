#include "engine/plan/change_paths.h"

#include "engine/plan/internal/text_edits.h"
#include "engine/plan/internal/toml.h"
#include "engine/plan/internal/toml_text.h"

namespace petalproof::plan {
namespace fs = std::filesystem;
namespace {

// The folder's absolute path without links.
fs::path settled(const fs::path& folder) {
  std::error_code error;
  const fs::path absolute = fs::absolute(folder.empty() ? fs::path(".") : folder, error);
  const fs::path canonical = fs::weakly_canonical(absolute, error);
  return error ? absolute.lexically_normal() : canonical;
}

// The path that leads from `target` to the file. The file itself may be a link: only its folder is resolved.
std::string pathFrom(const std::string& path, const fs::path& folder, const fs::path& target) {
  const fs::path file = folder / path;
  const fs::path relative = (settled(file.parent_path()) / file.filename()).lexically_relative(target);
  return relative.empty() ? file.generic_string() : relative.generic_string();
}

class PathChange {
 public:
  PathChange(TextEdits& edits, const fs::path& folder, const fs::path& target)
      : edits_(edits), folder_(settled(folder)), target_(settled(target)) {}

  void change(const toml::node* node) {
    const auto* path = node != nullptr ? node->as_string() : nullptr;
    if (path == nullptr || fs::path(path->get()).is_absolute()) return;
    const toml::source_region& source = node->source();
    edits_.replace(edits_.byteAt(source.begin.line, source.begin.column),
                   edits_.byteAt(source.end.line, source.end.column),
                   tomlText(pathFrom(path->get(), folder_, target_)));
  }

  bool needed() const { return folder_ != target_; }

 private:
  TextEdits& edits_;
  fs::path folder_;
  fs::path target_;
};

}  // namespace

std::string withPathsFrom(std::string_view text, const fs::path& folder, const fs::path& target) {
  const toml::parse_result parsed = toml::parse(text);
  TextEdits edits(text);
  PathChange paths(edits, folder, target);
  if (!parsed || !paths.needed()) return std::string(text);
  const toml::table& plan = parsed.table();
  if (const auto* wall = plan["wall"].as_table()) paths.change(wall->get("grid"));
  if (const auto* blooms = plan["bloom"].as_array())
    for (const toml::node& bloom : *blooms)
      if (const auto* table = bloom.as_table()) paths.change(table->get("mesh"));
  return edits.applied();
}

}  // namespace petalproof::plan
