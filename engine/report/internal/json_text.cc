#include "engine/report/internal/json_text.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace petalproof::json_text {

std::string number(std::optional<double> value) {
  if (!value || !std::isfinite(*value)) return "null";
  std::string text = fmt::format("{:.6f}", *value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string textOf(std::string_view text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

std::string pair(glm::dvec2 point) { return fmt::format("[{}, {}]", number(point.x), number(point.y)); }

std::string list(const std::vector<std::string>& items, std::string_view indent) {
  if (items.empty()) return "[]";
  return fmt::format("[\n{0}  {1}\n{0}]", indent, fmt::join(items, fmt::format(",\n{}  ", indent)));
}

}  // namespace petalproof::json_text
