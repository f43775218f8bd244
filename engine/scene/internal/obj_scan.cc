#include "engine/scene/internal/obj_scan.h"

#include "engine/scene/internal/grouped.h"
#include "engine/scene/internal/joined_lines.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

namespace petalproof::scene {
namespace {

// Larger coordinates can't be a place in a mesh, and their squares leave the range of floats.
constexpr double largest_coordinate = 1e15;

constexpr std::string_view blanks = " \t\r\n";

// The statements of the format, to tell a file of another format from an OBJ file with extensions.
constexpr std::array<std::string_view, 36> statements{
    "v",    "vt",    "vn",   "vp",     "f",      "fo",       "l",        "p",          "g",
    "o",    "s",     "mg",   "usemtl", "mtllib", "cstype",   "deg",      "bmat",       "step",
    "curv", "curv2", "surf", "parm",   "trim",   "hole",     "scrv",     "sp",         "end",
    "con",  "bevel", "lod",  "maplib", "usemap", "c_interp", "d_interp", "shadow_obj", "trace_obj"};

// Takes the next word off the line.
std::string_view nextWord(std::string_view& line) {
  const std::size_t from = std::min(line.find_first_not_of(blanks), line.size());
  const std::size_t to = std::min(line.find_first_of(blanks, from), line.size());
  const std::string_view word = line.substr(from, to - from);
  line.remove_prefix(to);
  return word;
}

std::string shown(std::string_view word) {
  std::string text;
  constexpr std::size_t longest_shown = 24;  // bytes of a word in a message
  for (const char c : word.substr(0, longest_shown)) text += c >= ' ' && c <= '~' ? c : '?';
  return word.size() > longest_shown ? text + "..." : text;
}

std::string_view withoutPlus(std::string_view word) {
  const bool plus = word.size() > 1 && word[0] == '+' && word[1] != '-';
  return plus ? word.substr(1) : word;
}

std::optional<std::int32_t> wholeNumber(std::string_view word) {
  word = withoutPlus(word);
  std::int32_t value = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  if (error != std::errc{} || end != word.data() + word.size()) return std::nullopt;
  return value;
}

// Reads a number; a too large number is infinite, a too small number 0.
std::optional<double> number(std::string_view word) {
  word = withoutPlus(word);
  double value = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  if (word.empty() || end != word.data() + word.size()) return std::nullopt;
  if (error == std::errc::result_out_of_range) {
    const bool small = word.find("e-") != word.npos || word.find("E-") != word.npos;
    return small ? 0.0 : std::numeric_limits<double>::infinity();
  }
  return error == std::errc{} ? std::optional(value) : std::nullopt;
}

std::string byteText(std::size_t bytes) {
  return bytes >= 1 << 20 ? fmt::format("{} MiB", bytes >> 20) : fmt::format("{} bytes", bytes);
}

class Scan {
 public:
  Scan(std::string_view text, const ObjLimits& limits) : rest_(text), limits_(limits) {}

  // Returns the first mistake; line() is its line, 0 for the whole file.
  std::optional<std::string> run() {
    while (!rest_.empty()) {
      const std::string_view line = takeLine();
      const std::string joined = lines_taken_ > 1 ? withJoinedLines(line) : std::string();
      if (auto reason = statement(joined.empty() ? line : joined)) return reason;
    }
    line_ = 0;
    return whole();
  }
  int line() const { return line_; }
  auto takeWithExponents() { return std::move(with_exponents_); }

 private:
  // Takes a line and the lines that continue it after a "\".
  std::string_view takeLine() {
    line_ += lines_taken_;
    lines_taken_ = 1;
    std::size_t end = 0;
    for (; end < rest_.size(); ++end) {
      if (rest_[end] != '\n' && rest_[end] != '\r') continue;
      const std::size_t last = end;
      if (rest_[end] == '\r' && end + 1 < rest_.size() && rest_[end + 1] == '\n') ++end;
      if (last == 0 || rest_[last - 1] != '\\') break;
      ++lines_taken_;
    }
    const std::string_view line = rest_.substr(0, end);
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    return line;
  }

  std::optional<std::string> statement(std::string_view line) {
    const std::string_view name = nextWord(line);
    if (name.empty() || name.front() == '#') return std::nullopt;
    if (name == "v") return vertex(line);
    if (name == "f") return face(line);
    if (std::find(statements.begin(), statements.end(), name) == statements.end() && unknown_.empty()) {
      unknown_ = shown(name);
      unknown_line_ = line_;
    }
    return std::nullopt;
  }

  std::optional<std::string> vertex(std::string_view line) {
    ++vertices_;
    // Faces within the limit on triangles can't use more vertices than this.
    const std::size_t most = 3 * limits_.triangles;
    if (static_cast<std::size_t>(vertices_) > most)
      return fmt::format("the mesh has more than {} vertices", grouped(most));
    glm::vec3 place(0);
    bool exponent = false;
    for (int k = 0; k < 3; ++k) {
      const std::string_view word = nextWord(line);
      exponent = exponent || word.find_first_of("eE") != word.npos;
      if (word.empty()) return "a vertex needs three numbers";
      const std::optional<double> value = number(word);
      if (!value) return fmt::format("\"{}\" is not a number", shown(word));
      if (!std::isfinite(*value)) return fmt::format("a vertex is not finite (\"{}\")", shown(word));
      if (std::abs(*value) > largest_coordinate)
        return fmt::format("the vertex coordinate {} is too large", shown(word));
      place[k] = static_cast<float>(*value);
    }
    if (exponent) with_exponents_.emplace_back(static_cast<std::size_t>(vertices_) - 1, place);
    return std::nullopt;
  }

  std::optional<std::string> face(std::string_view line) {
    std::size_t corners = 0;
    for (std::string_view word = nextWord(line); !word.empty(); word = nextWord(line)) {
      if (word.front() == '#') break;
      if (++corners > most_face_corners)
        return fmt::format("a face has more than {} corners", most_face_corners);
      if (auto reason = corner(word)) return reason;
    }
    if (corners < 3) return fmt::format("a face needs three corners, this one has {}", corners);
    triangles_ += corners - 2;
    if (triangles_ > limits_.triangles)
      return fmt::format("the mesh has more than {} triangles", grouped(limits_.triangles));
    return std::nullopt;
  }

  // "7", "7/1", "7//3", "7/1/3", each number perhaps negative.
  std::optional<std::string> corner(std::string_view word) {
    std::string_view remaining = word;
    for (int part = 0; part < 3; ++part) {
      const std::size_t slash = std::min(remaining.find('/'), remaining.size());
      const std::string_view digits = remaining.substr(0, slash);
      const std::optional<std::int32_t> index = wholeNumber(digits);
      const bool left_out = part > 0 && digits.empty();
      if (!index && !left_out) return fmt::format("\"{}\" is not a corner of a face", shown(word));
      if (part == 0)
        if (auto reason = vertexIndex(*index)) return reason;
      if (slash == remaining.size()) return std::nullopt;
      remaining.remove_prefix(slash + 1);
    }
    return fmt::format("\"{}\" is not a corner of a face", shown(word));
  }

  std::optional<std::string> vertexIndex(std::int64_t index) {
    if (index == 0) return "a face names vertex 0: they count from 1";
    if (index < 0 && -index > vertices_)
      return fmt::format("a face names vertex {}, but only {} stand before it", index, vertices_);
    if (index > largest_index_) {
      largest_index_ = index;
      largest_index_line_ = line_;
    }
    return std::nullopt;
  }

  std::optional<std::string> whole() {
    if (vertices_ == 0 && triangles_ == 0 && !unknown_.empty()) {
      line_ = unknown_line_;
      return fmt::format("this is not an OBJ file: no statement of one begins with \"{}\"", unknown_);
    }
    if (vertices_ == 0) return "the mesh has no vertices";
    if (triangles_ == 0) return "the mesh has no faces";
    if (largest_index_ > vertices_) {
      line_ = largest_index_line_;
      return fmt::format("a face names vertex {}, but there are only {}", largest_index_, vertices_);
    }
    return std::nullopt;
  }

  std::string_view rest_;
  const ObjLimits& limits_;
  int line_ = 0;
  int lines_taken_ = 1;
  std::int64_t vertices_ = 0;
  std::size_t triangles_ = 0;
  std::int64_t largest_index_ = 0;
  int largest_index_line_ = 0;
  std::string unknown_;
  int unknown_line_ = 0;
  std::vector<std::pair<std::size_t, glm::vec3>> with_exponents_;
};

}  // namespace

ObjScan scanObj(std::string_view text, const std::string& file, const ObjLimits& limits) {
  const auto problem = [&](int line, std::string reason) {
    Problem found;
    found.place.file = file;
    found.place.line = line;
    found.message = std::move(reason);
    return ObjScan{std::move(found), {}};
  };
  if (text.size() > limits.bytes)
    return problem(0, fmt::format("the mesh file is larger than {}", byteText(limits.bytes)));
  if (text.find('\0') != std::string_view::npos) return problem(0, "this is not an OBJ file: it is not text");
  Scan scan(text, limits);
  if (auto reason = scan.run()) return problem(scan.line(), std::move(*reason));
  return {std::nullopt, scan.takeWithExponents()};
}

}  // namespace petalproof::scene
