#include "engine/plan/internal/named_tables.h"

#include <fmt/format.h>

namespace petalproof::plan {

std::vector<TableReader> tablesOf(const Field& field, const std::string& owner) {
  const std::string meaning = fmt::format("given under [[{}]], in two pairs of brackets", field.key());
  std::vector<TableReader> tables;
  if (const auto entries = field.list(meaning))
    for (const Field& entry : *entries)
      if (auto table = entry.table(owner, meaning)) tables.push_back(std::move(*table));
  return tables;
}

std::string readName(TableReader& table, const std::string& kind, Names& names) {
  const Field field = table.needed("name", fmt::format("a name of its own, such as name = \"my {}\"", kind));
  const auto name = field.name();
  if (!name) return {};
  table.setOwner(fmt::format("the {} {}", kind, inQuotes(*name)));
  if (!names.add(*name, field.place()))
    field.wrong(fmt::format("a {} named {} is there already, in line {}; give one of them another name", kind,
                            inQuotes(*name), names.placeOf(*name).line));
  return *name;
}

}  // namespace petalproof::plan
