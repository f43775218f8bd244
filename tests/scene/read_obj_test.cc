#include "engine/scene/internal/read_obj.h"

#include "engine/base/file.h"
#include "engine/scene/internal/polygon.h"

#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <assimp/Importer.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <random>
#include <set>
#include <sstream>
#include <string>

using namespace petalproof;
using namespace petalproof::scene;

namespace {

namespace fs = std::filesystem;

const fs::path data = fs::path(PETALPROOF_SOURCE_DIR) / "tests/scene/data";

std::string textOf(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::set<fs::path> objFilesIn(const fs::path& folder) {
  std::set<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".obj") files.insert(entry.path());
  return files;
}

struct Box {
  glm::dvec3 low{1e30};
  glm::dvec3 high{-1e30};
  void add(const glm::dvec3& p) {
    low = glm::min(low, p);
    high = glm::max(high, p);
  }
};

Box boxOf(const Mesh& mesh) {
  Box box;
  for (const glm::dvec3 p : mesh.vertices) box.add(p);
  return box;
}

double areaOf(const Mesh& mesh) {
  double area = 0;
  for (const Triangle& t : mesh.triangles) {
    const glm::dvec3 a = mesh.vertices[t[0]];
    area += 0.5 *
            glm::length(glm::cross(glm::dvec3(mesh.vertices[t[1]]) - a, glm::dvec3(mesh.vertices[t[2]]) - a));
  }
  return area;
}

Mesh goodMesh(const std::string& name) {
  const auto mesh = readObj(textOf(data / "good" / name), name);
  REQUIRE(mesh);
  return *mesh.value;
}

std::string problemOf(const std::string& text, const ObjLimits& limits = {}) {
  const auto mesh = readObj(text, "it.obj", limits);
  REQUIRE_FALSE(mesh);
  REQUIRE(mesh.problems.size() == 1);
  return toString(mesh.problems.front());
}

}  // namespace

TEST_CASE("each bad mesh file is refused with its reason") {
  std::istringstream expected(textOf(data / "bad/expected.txt"));
  std::set<fs::path> left = objFilesIn(data / "bad");
  for (std::string line; std::getline(expected, line);) {
    if (line.empty() || line.front() == '#') continue;
    const std::string file = line.substr(0, line.find(':'));
    CAPTURE(file);
    CHECK(left.erase(data / "bad" / file) == 1);
    const auto mesh = readObj(textOf(data / "bad" / file), file);
    REQUIRE_FALSE(mesh);
    CHECK(toString(mesh.problems.front()) == line);
  }
  CHECK(left.empty());
}

TEST_CASE("limits of a mesh are named before it is built") {
  const std::string quad = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nf 1 2 3 4\nf 1 2 3 4\n";
  CHECK(readObj(quad, "it.obj", {.triangles = 4}));
  CHECK(problemOf(quad, {.triangles = 3}) == "it.obj:6: the mesh has more than 3 triangles");
  CHECK(problemOf(quad, {.triangles = 1}) == "it.obj:4: the mesh has more than 3 vertices");
  CHECK(problemOf(quad, {.bytes = 10}) == "it.obj: the mesh file is larger than 10 bytes");
  std::string many = "v 0 0 0\nv 1 0 0\nv 0 1 0\nf";
  for (int k = 0; k < 1001; ++k) many += (k % 2 == 0 ? " 1" : " 2");
  CHECK(problemOf(many) == "it.obj:4: a face has more than 1000 corners");
  std::string million = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
  for (int k = 0; k <= 1'000'000; ++k) million += "f 1 2 3\n";
  CHECK(problemOf(million) == "it.obj:1000004: the mesh has more than 1,000,000 triangles");
}

TEST_CASE("an independent reader finds the same bounds and triangles") {
  std::set<fs::path> files = objFilesIn(data / "good");
  files.merge(objFilesIn(fs::path(PETALPROOF_SOURCE_DIR) / "assets/meshes"));
  CHECK(files.size() >= 9);
  for (const fs::path& file : files) {
    CAPTURE(file.filename().string());
    const auto ours = readObj(textOf(file), file.filename().string());
    REQUIRE(ours);
    Assimp::Importer importer;
    const aiScene* theirs = importer.ReadFile(file.string(), aiProcess_Triangulate);
    REQUIRE(theirs != nullptr);
    std::size_t triangles = 0;
    Box box;
    for (unsigned m = 0; m < theirs->mNumMeshes; ++m) {
      const aiMesh& mesh = *theirs->mMeshes[m];
      for (unsigned f = 0; f < mesh.mNumFaces; ++f) {
        if (mesh.mFaces[f].mNumIndices != 3) continue;  // lines and points
        ++triangles;
        for (unsigned c = 0; c < 3; ++c) {
          const aiVector3D& p = mesh.mVertices[mesh.mFaces[f].mIndices[c]];
          box.add({p.x, p.y, p.z});
        }
      }
    }
    CHECK(ours.value->triangles.size() == triangles);
    CHECK(glm::length(boxOf(*ours.value).low - box.low) < 1e-5);
    CHECK(glm::length(boxOf(*ours.value).high - box.high) < 1e-5);
  }
}

TEST_CASE("polygons are cut up without overlap") {
  // Closed forms: an L of 2 x 1 and 1 x 2 (its far corner lifted by 0.5), counted twice; the arrow head;
  // a star of 12 points with radii 2 and 0.4: 24 triangles of 1/2 * 2 * 0.4 * sin(15 degrees).
  CHECK(goodMesh("concave.obj").triangles.size() == 8);
  CHECK(areaOf(goodMesh("concave.obj")) == doctest::Approx(8.0).epsilon(0.06));
  CHECK(areaOf(goodMesh("arrow.obj")) == doctest::Approx(1.5));
  CHECK(goodMesh("star.obj").triangles.size() == 22);
  CHECK(areaOf(goodMesh("star.obj")) ==
        doctest::Approx(24 * 0.4 * std::sin(std::acos(-1.0) / 12)).epsilon(1e-5));
}

TEST_CASE("any star-shaped polygon keeps its area") {
  for (unsigned seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(0, 1);
    const int count = 4 + static_cast<int>(random() % 60);
    const double scale = std::pow(10.0, 8 * unit(random) - 4);
    std::vector<glm::dvec3> corners;
    for (int k = 0; k < count; ++k) {
      const double r = scale * (0.1 + unit(random));
      const double a = 2 * std::acos(-1.0) * k / count;
      corners.emplace_back(r * std::cos(a), 0.3 * r * std::cos(a) - 0.2 * r * std::sin(a), r * std::sin(a));
    }
    glm::dvec3 whole{0};
    for (std::size_t k = 0; k < corners.size(); ++k)
      whole += 0.5 * glm::cross(corners[k], corners[(k + 1) % corners.size()]);
    double area = 0;
    for (const Triangle& t : trianglesOfPolygon(corners))
      area += 0.5 * glm::length(glm::cross(corners[t[1]] - corners[t[0]], corners[t[2]] - corners[t[0]]));
    CHECK(area == doctest::Approx(glm::length(whole)).epsilon(1e-9));
  }
}

TEST_CASE("a face that crosses itself or has no area is still cut into its triangles") {
  const std::vector<glm::dvec3> bow{{0, 0, 0}, {1, 1, 0}, {1, 0, 0}, {0, 1, 0}};
  CHECK(trianglesOfPolygon(bow).size() == 2);
  CHECK(trianglesOfPolygon(std::vector<glm::dvec3>(6, glm::dvec3{1, 2, 3})).size() == 4);
}

TEST_CASE("a fitted mesh has the plan's size") {
  for (const char* name : {"mixed_indices.obj", "concave.obj", "windows.obj"}) {
    CAPTURE(name);
    const Mesh raw = goodMesh(name);
    const Mesh mesh = fittedTo(raw, 250, 40);
    double farthest = 0;
    for (const glm::dvec3 p : mesh.vertices) farthest = std::max(farthest, std::hypot(p.x, p.y));
    CHECK(farthest == doctest::Approx(125).epsilon(1e-6));
    CHECK(boxOf(mesh).low.z == 0.0);
    CHECK(boxOf(mesh).high.z == doctest::Approx(40).epsilon(1e-6));
    // x and y by the same factor: the axis is kept and no angle about it changes.
    for (std::size_t k = 0; k < raw.vertices.size(); ++k)
      CHECK(mesh.vertices[k].x * raw.vertices[k].y ==
            doctest::Approx(mesh.vertices[k].y * raw.vertices[k].x));
  }
}

TEST_CASE("a flat mesh lies at its depth") {
  for (const glm::vec3& p : fittedTo(goodMesh("arrow.obj"), 100, 7).vertices) CHECK(p.z == 7.0F);
}

TEST_CASE("whatever is damaged in a mesh file, reading it ends in a mesh or a reason") {
  const std::string whole = textOf(data / "good/mixed_indices.obj");
  for (unsigned seed = 1; seed <= 2000; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::string text = whole;
    const std::string letters = "0123456789-+./ \n\\#fveE\x01\xff";
    for (unsigned k = 0; k < 1 + seed % 5; ++k)
      text[random() % text.size()] = letters[random() % letters.size()];
    const auto mesh = readObj(text, "it.obj");
    if (!mesh) {
      CHECK(mesh.problems.size() == 1);
      continue;
    }
    for (const Triangle& t : mesh.value->triangles)
      for (const std::uint32_t corner : t) CHECK(corner < mesh.value->vertices.size());
  }
}

TEST_CASE("a byte order mark, old line ends and lines that go on are read over") {
  const Mesh plain = goodMesh("windows.obj");
  std::string text = textOf(data / "good/windows.obj");
  CHECK(readObj("\xef\xbb\xbf" + text, "it.obj").value->vertices == plain.vertices);
  text.erase(std::remove(text.begin(), text.end(), '\n'), text.end());
  CHECK(readObj(text, "it.obj").value->triangles == plain.triangles);
  // The line of a later problem counts the lines of the file.
  CHECK(problemOf("v 0 0 \\\n0\nv 1 0 0\nv 0 1 0\nf 1 2 \\\r\n 3 # the first\nf 1 2 9 # the second\n") ==
        "it.obj:7: a face names vertex 9, but there are only 3");
}

TEST_CASE("numbers with large exponents are read as they are, or refused with their line") {
  const auto read = [](const std::string& number) {
    return readObj("v " + number + " 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n", "a.obj");
  };
  for (const char* const zero : {"0e999", "-0E+400", "0.000e400", "1e-999"}) {
    CAPTURE(zero);
    const auto mesh = read(zero);
    REQUIRE(mesh);
    CHECK(mesh.value->vertices[0].x == 0);
  }
  const std::string long_number = "1" + std::string(400, '0') + "e-399";  // ten
  const auto mesh = read(long_number);
  REQUIRE(mesh);
  CHECK(mesh.value->vertices[0].x == 10);
  for (const char* const wrong : {"1e999", "nan", "inf"}) {
    CAPTURE(wrong);
    const auto refused = read(wrong);
    REQUIRE_FALSE(refused);
    CHECK(toString(refused.problems[0]).find("a.obj:1: ") == 0);
  }
}
