#include "engine/report/internal/json_text.h"

#include <fmt/format.h>

#include <cmath>
#include <cstddef>
#include <nlohmann/json.hpp>
#include <utility>

namespace petalproof::json_text {
namespace {

constexpr std::size_t indent_step = 2;

// Whether a value has a line for each item or key.
bool isSpread(const Json& value) {
  if (value.is_array()) return !value.empty() && value.front().is_object();
  return value.is_object() && (value.contains("shots") || value.contains("gaps"));
}

class Writer {
 public:
  std::string take() { return std::move(text_); }

  // `indent`: of the line on which the value begins. An item of a list ends on the line of its last key.
  void write(const Json& value, std::size_t indent, bool is_item = false) {
    if (value.is_object())
      writeObject(value, indent, is_item);
    else if (value.is_array())
      writeList(value, indent);
    else if (value.is_number_float())
      text_ += number(value.get<double>());
    else
      text_ += value.dump(-1, ' ', false, Json::error_handler_t::replace);
  }

 private:
  void beginLine(std::size_t indent) { text_.append("\n").append(indent, ' '); }

  void writeObject(const Json& object, std::size_t indent, bool is_item) {
    const bool spread = isSpread(object);
    const std::size_t inner = indent + indent_step;
    text_ += '{';
    for (auto member = object.begin(); member != object.end(); ++member) {
      if (member != object.begin()) text_ += ',';
      if (spread)
        beginLine(inner);
      else
        text_ += ' ';
      write(Json(member.key()), inner);
      text_ += ": ";
      write(member.value(), inner);
    }
    if (spread && !is_item)
      beginLine(indent);
    else
      text_ += ' ';
    text_ += '}';
  }

  void writeList(const Json& list, std::size_t indent) {
    const bool spread = isSpread(list);
    const std::size_t inner = indent + indent_step;
    text_ += '[';
    for (auto item = list.begin(); item != list.end(); ++item) {
      if (item != list.begin()) text_ += spread ? "," : ", ";
      if (spread) beginLine(inner);
      write(*item, inner, true);
    }
    if (spread) beginLine(indent);
    text_ += ']';
  }

  std::string text_;
};

}  // namespace

std::string number(std::optional<double> value) {
  if (!value || !std::isfinite(*value)) return "null";
  std::string text = fmt::format("{:.6f}", *value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

Json valueOf(std::optional<double> value) { return value ? Json(*value) : Json(); }

Json pairOf(glm::dvec2 point) { return Json::array({point.x, point.y}); }

void append(Json& object, Json from) {
  for (auto member = from.begin(); member != from.end(); ++member)
    object.emplace(member.key(), std::move(member.value()));
}

std::string textOf(const Json& value) {
  Writer writer;
  writer.write(value, 0);
  return writer.take() + "\n";
}

}  // namespace petalproof::json_text
