#include "engine/report/check_json.h"

#include "engine/report/internal/check_json_keys.h"

#include <nlohmann/json.hpp>

namespace petalproof::report {

std::string_view checkJsonSignature() { return "{\n  \"format\": 1,\n  \"title\": "; }

std::string checkJson(const check::Check& check, const plan::LoadedPlan& loaded, const scene::Scene& scene,
                      const advice::Advice* advice) {
  return json_text::textOf(checkKeys(check, loaded, scene, advice));
}

}  // namespace petalproof::report
