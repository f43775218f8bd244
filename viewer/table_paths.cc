#include "viewer/table_paths.h"

namespace petalproof {
namespace fs = std::filesystem;

void moveMeshPaths(std::vector<plan::Bloom>& blooms, const fs::path& from, const fs::path& to) {
  const fs::path target = fs::weakly_canonical(fs::absolute(to.empty() ? "." : to));
  for (plan::Bloom& bloom : blooms) {
    auto* mesh = std::get_if<plan::MeshFile>(&bloom.form);
    if (mesh == nullptr || fs::path(mesh->path).is_absolute()) continue;
    const fs::path file = fs::weakly_canonical(fs::absolute(from / mesh->path));
    mesh->path = file.lexically_relative(target).generic_string();
  }
}

}  // namespace petalproof
