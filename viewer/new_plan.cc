#include "viewer/new_plan.h"

#include "viewer/write_uninterrupted.h"

namespace petalproof {

std::vector<Output> outputsOf(const NewArguments& arguments) {
  std::vector<Output> outputs;
  addNewFile(outputs, "FILE", arguments.file);
  return outputs;
}

std::optional<std::string> writeNewPlan(const NewArguments& arguments, const std::string& text) {
  std::vector<Output> outputs = outputsOf(arguments);
  outputs.front().files = {{"", text}};
  return writeUninterrupted(outputs);
}

}  // namespace petalproof
