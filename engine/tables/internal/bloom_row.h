#pragma once
// Reads a row of a bloom table cell by cell; readBloomTable makes a RowReader for each row.

#include "engine/tables/internal/bloom_table.h"

#include <optional>
#include <string>
#include <string_view>

namespace petalproof::tables {

// Problems go to the findings.
class RowReader {
 public:
  RowReader(const Sheet& sheet, const BloomColumns& columns, const SheetRow& row, const BloomContext& context,
            TableFindings& findings)
      : sheet_(&sheet), columns_(&columns), row_(&row), context_(&context), findings_(&findings) {}

  // `above` is the row before, for cells that say "as above"; nullptr for the first row. Returns nothing if
  // the row has a problem.
  std::optional<BloomRow> read(const BloomRow* above);

 private:
  const std::string& text(Meaning meaning) const;
  Place place(Meaning meaning) const;
  std::optional<Units> columnUnits(Meaning meaning) const;
  void wrong(Meaning meaning, std::string message);

  void readName(const BloomRow* above);
  void readSize(const BloomRow* above);
  bool isKeptApart() const;
  std::optional<Units> sizeUnits();
  void readCount();
  void readColours(const BloomRow* above);
  void addColours(const std::string& written, const Place& place);
  void guessColour();
  void readFiller();
  void readStock();
  void readCard();
  void readWidth();
  std::optional<Length> lengthOf(Meaning meaning, std::string_view noun);
  std::optional<double> amountOf(Meaning meaning, std::string_view noun, double most);
  std::optional<int> wholeOf(Meaning meaning, std::string_view noun, int most);

  const Sheet* sheet_;
  const BloomColumns* columns_;
  const SheetRow* row_;
  const BloomContext* context_;
  TableFindings* findings_;
  BloomRow out_;
};

}  // namespace petalproof::tables
