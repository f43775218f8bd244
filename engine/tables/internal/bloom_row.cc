#include "engine/tables/internal/bloom_row.h"

#include "engine/base/length_text.h"
#include "engine/plan/findings.h"
#include "engine/plan/ranges.h"
#include "engine/plan/shape_names.h"
#include "engine/plan/utf8.h"
#include "engine/tables/internal/bloom_guesses.h"
#include "engine/tables/internal/colour_names.h"
#include "engine/tables/internal/colours_from_text.h"
#include "engine/tables/internal/shape_guess.h"
#include "engine/tables/internal/table_values.h"
#include "engine/tables/internal/table_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace petalproof::tables {
namespace {

constexpr int most_petals = 60;
constexpr int most_layers = 8;
constexpr double most_sheets = 10'000;
constexpr double most_minutes = 100'000;
constexpr int most_stock = 1'000'000;
constexpr double largest_bloom_mm = 10'000;  // larger sizes are in a wrong unit

std::string dateMessage(const std::string& text, std::string_view noun) {
  return fmt::format(
      "{} is a date that the spreadsheet made of a {}; format the cell as text and type the {} "
      "again",
      plan::inQuotes(text), noun, noun);
}

// Whether a size is a spreadsheet's number of a day in 2000 to 2100, counted from 1900.
bool isDayNumber(const std::string& text) {
  constexpr std::string_view first_of_2000 = "36526";
  constexpr std::string_view last_of_2100 = "73415";
  return text.size() == 5 && isNumber(text) && text >= first_of_2000 && text <= last_of_2100;
}

// Reads "copper 80 lb (8) + gold foil (0.5)": the number in brackets counts sheets.
std::vector<plan::Card> cardsFromText(const std::string& text) {
  std::vector<plan::Card> cards;
  std::string part;
  for (const char c : text + "+") {
    if (c != '+') {
      part += c;
      continue;
    }
    const auto first = part.find_first_not_of(' ');
    const auto last = part.find_last_not_of(' ');
    if (first != std::string::npos) cards.push_back({part.substr(first, last - first + 1), 0});
    part.clear();
  }
  for (plan::Card& card : cards) {
    const auto open = card.name.rfind('(');
    if (open == std::string::npos || open == 0 || !card.name.ends_with(')')) continue;
    const auto sheets =
        amountFromText(std::string_view(card.name).substr(open + 1, card.name.size() - open - 2));
    if (!sheets) continue;
    card.sheets = *sheets;
    card.name.resize(card.name.find_last_not_of(' ', open - 1) + 1);
  }
  return cards;
}

}  // namespace

const std::string& RowReader::text(Meaning meaning) const {
  const BloomColumn* column = columns_->find(meaning);
  static const std::string none;
  return column ? row_->cell(column->number) : none;
}

Place RowReader::place(Meaning meaning) const {
  const BloomColumn* column = columns_->find(meaning);
  return column ? sheet_->at(*row_, column->number) : sheet_->at(*row_);
}

void RowReader::wrong(Meaning meaning, std::string message) {
  findings_->problem(place(meaning), std::move(message));
}

void RowReader::readName(const BloomRow* above) {
  const std::string& written = text(Meaning::name);
  const bool as_above = meansAsAbove(written) || (written.empty() && above != nullptr);
  if (plan::characterCount(written) > plan::longest_plan_name)
    return wrong(Meaning::name, "the name is too long; 100 characters are the most");
  if (written.empty() && !as_above) return wrong(Meaning::name, "which flower is it? The cell is empty");
  if (as_above && above == nullptr) return wrong(Meaning::name, "there is no row above to be the same as");
  out_.bloom.name = as_above ? above->written_name : written;
  out_.written_name = out_.bloom.name;
  if (written.empty())
    findings_->remark(place(Meaning::name), fmt::format("the cell is empty: taken as {}, as in the row above",
                                                        plan::inQuotes(out_.bloom.name)));
}

std::optional<Units> RowReader::columnUnits(Meaning meaning) const {
  const BloomColumn* column = columns_->find(meaning);
  return column ? column->heading.units : std::nullopt;
}

// The unit of the size: the row's own, else the heading's.
std::optional<Units> RowReader::sizeUnits() {
  const std::string& written = text(Meaning::unit);
  if (const auto units = unitsNamed(written)) return units;
  if (!written.empty() && written != "-")
    wrong(Meaning::unit, fmt::format("{} is no unit of a size; write in, cm or mm", plan::inQuotes(written)));
  return columnUnits(Meaning::size);
}

void RowReader::readSize(const BloomRow* above) {
  const std::string& written = text(Meaning::size);
  if (meansAsAbove(written) && above != nullptr) {
    out_.bloom.diameter = above->bloom.diameter;
    out_.bloom.width = above->bloom.width;
    return;
  }
  if (written.empty()) return wrong(Meaning::size, "how large is it? The cell is empty");
  if (looksLikeDate(written) || isDayNumber(written))
    return wrong(Meaning::size, dateMessage(written, "size"));
  if (const auto share = shareFromSizeWord(written)) {
    const double side = std::min(context_->panel.width.value, context_->panel.height.value);
    const double mark = context_->units == Units::millimetre ? 10 : 0.5;
    out_.bloom.diameter = {std::max(mark, std::round(*share * side / mark) * mark)};
    out_.guess("diameter", plan::numberText(out_.bloom.diameter.value), "for " + plan::inQuotes(written));
    return;
  }
  const auto size = sizeFromText(written, sizeUnits().value_or(context_->units), context_->units);
  if (!size)
    return wrong(Meaning::size, fmt::format("{} is no size; write it as 17, 7 1/4, 17 in, 8 ft 4 in or 43 cm",
                                            plan::inQuotes(written)));
  if (toMillimetres(size->length, context_->units) > largest_bloom_mm)
    return wrong(Meaning::size,
                 fmt::format("{} is more than 10 m; in which unit is it?", plan::inQuotes(written)));
  out_.bloom.diameter = size->length;
  out_.bloom.width = size->width;
  if (!size->guessed.empty()) out_.guess("diameter", plan::numberText(size->length.value), size->guessed);
}

std::optional<Length> RowReader::lengthOf(Meaning meaning, std::string_view noun) {
  const std::string& written = text(meaning);
  if (written.empty() || written == "-") return std::nullopt;
  if (looksLikeDate(written)) {
    wrong(meaning, dateMessage(written, noun));
    return std::nullopt;
  }
  const auto size = sizeFromText(written, columnUnits(meaning).value_or(context_->units), context_->units);
  if (!size) {
    wrong(meaning,
          fmt::format("{} is no {}; write it as 4, 7 1/4, 4 in or 10 cm", plan::inQuotes(written), noun));
    return std::nullopt;
  }
  if (!size->guessed.empty())
    out_.guess(std::string(noun), plan::numberText(size->length.value), size->guessed);
  return size->length;
}

// Whether the row is a filler with a stock: its count may be empty.
bool RowReader::isKeptApart() const {
  return yesOrNo(text(Meaning::filler)) == true && !text(Meaning::stock).empty();
}

void RowReader::readCount() {
  const std::string& written = text(Meaning::count);
  const BloomColumn* column = columns_->find(Meaning::count);
  if (column == nullptr) return;
  if (written.empty() && !context_->count_needed) return;
  if (written.empty() && isKeptApart())
    return findings_->remark(place(Meaning::count),
                             "the cell is empty: taken as none on the wall, all kept apart as fillers");
  if (written.empty()) return wrong(Meaning::count, "how many? The cell is empty; write 0 for none");
  if (looksLikeDate(written)) return wrong(Meaning::count, dateMessage(written, "number"));
  const auto count = countFromText(written);
  if (!count)
    return wrong(Meaning::count, fmt::format("{} is no whole number of blooms", plan::inQuotes(written)));
  out_.count = count->count;
  out_.per_panel = count->per_panel || column->heading.per_panel;
  if (count->about)
    findings_->remark(place(Meaning::count),
                      fmt::format("{} is taken as {}", plan::inQuotes(written), count->count));
}

void RowReader::readColours(const BloomRow* above) {
  bool found = false;
  for (const BloomColumn& column : columns_->columns) {
    if (column.heading.meaning != Meaning::colour) continue;
    const std::string& written = row_->cell(column.number);
    if (written.empty()) continue;
    found = true;
    out_.written_colour += (out_.written_colour.empty() ? "" : " ") + written;
    if (meansAsAbove(written) && above != nullptr)
      out_.bloom.colours = above->bloom.colours;
    else
      addColours(written, sheet_->at(*row_, column.number));
  }
  if (!found) guessColour();
}

void RowReader::addColours(const std::string& written, const Place& place) {
  const ColourReading found = coloursFromText(written);
  for (const UnknownColour& colour : found.unknown)
    findings_->problem(place,
                       fmt::format("unknown colour {}{}", plan::inQuotes(colour.name),
                                   colour.suggestion.empty() ? "; write a usual name, or one such as #b5382a"
                                                             : colour.suggestion));
  auto& colours = out_.bloom.colours;
  colours.insert(colours.end(), found.text.colours.begin(), found.text.colours.end());
  out_.assorted = out_.assorted || found.text.assorted;
  if (found.text.guessed.empty() || out_.assorted || found.text.colours.empty()) return;
  std::vector<std::string> texts;
  for (const Colour colour : found.text.colours) texts.push_back(toHex(colour));
  out_.guess("colour", joined(texts), "by eye, for " + plan::inQuotes(found.text.guessed));
}

void RowReader::guessColour() {
  const auto named = colourWithin(out_.bloom.name);
  const auto words = shapeFromWords(text(Meaning::shape) + " " + out_.bloom.name);
  const bool green = words && plan::takesWidth(words->shape);
  out_.bloom.colours = {named ? *named : green ? usualGreen() : usualPalette()[1]};
  out_.guess("colour", toHex(out_.bloom.colours.front()), named ? "by its name" : "the table doesn't say");
}

void RowReader::readFiller() {
  plan::Bloom& bloom = out_.bloom;
  const std::string& written = text(Meaning::filler);
  const auto answer = yesOrNo(written);
  const auto number = countFromText(written);
  if (answer) {
    bloom.filler = *answer;
  } else if (number) {
    bloom.filler = true;
    bloom.stock = std::min(number->count, most_stock);
  } else {
    wrong(Meaning::filler, fmt::format("is it a filler? {} is neither yes nor no", plan::inQuotes(written)));
  }
  if (written.empty() && hasPhrase(singularWordsOf(text(Meaning::shape)), "filler")) bloom.filler = true;
  readStock();
  const bool apart =
      bloom.filler && columns_->find(Meaning::stock) == nullptr && !bloom.stock && out_.count > 0;
  if (!apart) return;
  bloom.stock = std::min(out_.count, most_stock);
  out_.count = 0;
  out_.guess("stock", std::to_string(*bloom.stock), "fillers are kept apart, not arranged");
}

void RowReader::readStock() {
  const std::string& written = text(Meaning::stock);
  if (written.empty() || written == "-") return;
  const auto stock = countFromText(written);
  if (!stock)
    return wrong(Meaning::stock, fmt::format("{} is no whole number of blooms", plan::inQuotes(written)));
  out_.bloom.stock = stock->count;
}

std::optional<double> RowReader::amountOf(Meaning meaning, std::string_view noun, double most) {
  const std::string& written = text(meaning);
  if (written.empty() || written == "-") return std::nullopt;
  const auto amount = amountFromText(written);
  if (looksLikeDate(written)) {
    wrong(meaning, dateMessage(written, "number"));
  } else if (!amount) {
    wrong(meaning, fmt::format("{} is no number of {}", plan::inQuotes(written), noun));
  } else if (*amount > most) {
    wrong(meaning, fmt::format("{} {} for one bloom are more than the limit of {}", written, noun, most));
  } else {
    const bool in_all = columns_->find(meaning)->heading.in_all;
    return in_all && out_.count > 0 ? std::optional(*amount / out_.count) : amount;
  }
  return std::nullopt;
}

std::optional<int> RowReader::wholeOf(Meaning meaning, std::string_view noun, int most) {
  const auto amount = amountOf(meaning, noun, most);
  if (!amount) return std::nullopt;
  if (*amount >= 1 && *amount == std::floor(*amount)) return static_cast<int>(*amount);
  wrong(meaning, fmt::format("{} is no whole number of {}", plan::inQuotes(text(meaning)), noun));
  return std::nullopt;
}

void RowReader::readCard() {
  std::vector<plan::Card>& cards = out_.bloom.card;
  cards = cardsFromText(text(Meaning::card));
  const auto sheets = amountOf(Meaning::sheets, "sheets", most_sheets);
  double in_brackets = 0;
  for (const plan::Card& card : cards) in_brackets += card.sheets;
  if (!sheets || in_brackets > 0) return;
  if (cards.size() > 1)
    return wrong(Meaning::card, fmt::format("how many sheets of each? Write it as {} (1) + {} (2)",
                                            cards[0].name, cards[1].name));
  if (cards.empty()) cards.push_back({"", 0});
  cards.front().sheets = *sheets;
}

void RowReader::readWidth() {
  plan::Bloom& bloom = out_.bloom;
  if (const auto width = lengthOf(Meaning::width, "width")) bloom.width = width;
  const auto* shape = std::get_if<plan::Shape>(&bloom.form);
  if (!bloom.width || (shape && plan::takesWidth(*shape) && *bloom.width <= bloom.diameter)) return;
  if (*bloom.width != bloom.diameter)
    findings_->remark(place(Meaning::size),
                      fmt::format("the width is not read: {} has none of its own",
                                  shape ? fmt::format("a {}", plan::nameOf(*shape)) : "a mesh"));
  bloom.width.reset();
}

std::optional<BloomRow> RowReader::read(const BloomRow* above) {
  const std::size_t before = findings_->problems.size();
  out_.place = sheet_->at(*row_);
  readName(above);
  readSize(above);
  readCount();
  readColours(above);
  plan::Bloom& bloom = out_.bloom;
  bloom.depth = lengthOf(Meaning::depth, "depth");
  bloom.plate = lengthOf(Meaning::plate, "plate");
  bloom.petals = wholeOf(Meaning::petals, "petals", most_petals);
  bloom.layers = wholeOf(Meaning::layers, "layers", most_layers);
  bloom.label = text(Meaning::label);
  bloom.strips = amountOf(Meaning::strips, "strips", most_sheets).value_or(0);
  bloom.minutes = amountOf(Meaning::minutes, "minutes", most_minutes).value_or(0);
  readCard();
  out_.layout = text(Meaning::layout);
  if (const std::string& mesh = text(Meaning::mesh); !mesh.empty()) bloom.form = plan::MeshFile{mesh};
  readFiller();
  if (findings_->problems.size() > before) return std::nullopt;
  guessForm(out_, text(Meaning::shape), context_->units);
  readWidth();
  return std::move(out_);
}

}  // namespace petalproof::tables
