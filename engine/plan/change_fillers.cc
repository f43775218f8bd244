#include "engine/plan/change_fillers.h"

#include "engine/plan/internal/placement_text.h"
#include "engine/plan/internal/text_edits.h"
#include "engine/plan/internal/toml.h"
#include "engine/plan/toml_lexer.h"

#include <algorithm>
#include <optional>

namespace petalproof::plan {
namespace {

struct Bytes {
  std::size_t begin = 0;
  std::size_t end = 0;
};

Bytes bytesOf(const TextEdits& edits, const toml::node& node) {
  const toml::source_region& source = node.source();
  return {edits.byteAt(source.begin.line, source.begin.column),
          edits.byteAt(source.end.line, source.end.column)};
}

bool isKept(const std::vector<int>& kept, std::size_t filler) {
  return std::binary_search(kept.begin(), kept.end(), static_cast<int>(filler));
}

// The lines with the text's own line ends.
std::string withNewlinesOf(const std::string& lines, std::string_view newline) {
  std::string text;
  for (const char c : lines)
    if (c == '\n')
      text += newline;
    else
      text += c;
  return text;
}

std::string sectionOf(const Filler& filler, std::string_view newline) {
  return withNewlinesOf("[[filler]]\n" + fillerKeys(filler).lines(), newline);
}

// Fillers as sections [[filler]].

// The lines of a section, from its header to the last of its values.
struct SectionLines {
  std::size_t begin = 0;
  std::size_t end = 0;
};

SectionLines linesOf(const TextEdits& edits, const toml::table& section) {
  const Bytes header = bytesOf(edits, section);
  std::size_t last = header.begin;
  for (const auto& entry : section) last = std::max(last, bytesOf(edits, entry.second).end - 1);
  return {edits.lineOf(header.begin), edits.lineOf(last) + 1};
}

// Removes the section and keeps its comments on lines of their own. Without comments, one of two blank lines
// around the section goes too.
void takeOut(TextEdits& edits, SectionLines lines) {
  const std::size_t begin = edits.lineBegin(lines.begin);
  const std::size_t end = edits.lineBegin(lines.end);
  std::string comments;
  for (const std::string_view comment : commentsIn(edits.text().substr(begin, end - begin)))
    comments.append(comment).append(edits.newline());
  const bool blank_before = lines.begin > 0 && isBlank(edits.line(lines.begin - 1));
  const bool blank_after = lines.end >= edits.lines() || isBlank(edits.line(lines.end));
  const bool joins = comments.empty() && blank_before && blank_after;
  edits.replace(joins ? edits.lineBegin(lines.begin - 1) : begin, end, std::move(comments));
}

// Adds sections at the end of a line, a blank line before each.
void addSections(TextEdits& edits, std::size_t at, const std::vector<Filler>& added) {
  const std::string_view before = edits.text().substr(0, at);
  std::string sections;
  if (!before.empty() && before.back() != '\n') sections += edits.newline();
  const bool apart = at == edits.text().size() && at > 0 && before.back() == '\n' &&
                     isBlank(edits.line(edits.lineOf(at - 1)));
  for (const Filler& filler : added) {
    if (&filler != &added.front() || !apart) sections += edits.newline();
    sections += sectionOf(filler, edits.newline());
  }
  edits.replace(at, at, std::move(sections));
}

void changeSections(TextEdits& edits, const toml::array* fillers, const std::vector<int>& kept,
                    const std::vector<Filler>& added) {
  std::size_t end = edits.text().size();
  for (std::size_t i = 0; fillers != nullptr && i < fillers->size(); ++i) {
    const SectionLines lines = linesOf(edits, *fillers->get_as<toml::table>(i));
    end = edits.lineBegin(lines.end);
    if (!isKept(kept, i)) takeOut(edits, lines);
  }
  if (!added.empty()) addSections(edits, end, added);
}

std::string_view indentOf(std::string_view line) {
  return line.substr(0, std::min(line.find_first_not_of(" \t"), line.size()));
}

// Fillers as one list, filler = [ {...}, {...} ].
class FillerList {
 public:
  FillerList(TextEdits& edits, const toml::array& list) : edits_(edits), list_(bytesOf(edits, list)) {
    for (const toml::node& entry : list) entries_.push_back(bytesOf(edits, entry));
  }

  void change(const std::vector<int>& kept, const std::vector<Filler>& added) {
    for (std::size_t i = 0; i < entries_.size(); ++i)
      if (!isKept(kept, i)) takeOut(i);
    const bool last_stays = !entries_.empty() && isKept(kept, entries_.size() - 1);
    if (!added.empty() && last_stays && !hasCommaAfter(entries_.size() - 1))
      edits_.replace(entries_.back().end, entries_.back().end, ",");
    if (!added.empty()) add(added);
  }

 private:
  std::string_view between(std::size_t begin, std::size_t end) const {
    return edits_.text().substr(begin, end - begin);
  }
  std::size_t gapEnd(std::size_t entry) const {
    return entry + 1 < entries_.size() ? entries_[entry + 1].begin : list_.end - 1;
  }
  bool hasCommaAfter(std::size_t entry) const {
    const std::string_view gap = between(entries_[entry].end, gapEnd(entry));
    return firstComma(gap) < gap.size();
  }

  // Removes the entry and the comma behind it, and the whole line if nothing else stands on it.
  void takeOut(std::size_t entry) {
    Bytes out = entries_[entry];
    const std::string_view gap = between(out.end, gapEnd(entry));
    const std::size_t comma = firstComma(gap);
    if (comma == gap.size()) {
      edits_.replace(out.begin, out.end, "");
      return;
    }
    const bool comma_is_next = isBlank(gap.substr(0, comma));
    if (!comma_is_next) edits_.replace(out.end + comma, out.end + comma + 1, "");
    const Bytes removed = wholeLine({out.begin, out.end + (comma_is_next ? comma + 1 : 0)});
    edits_.replace(removed.begin, removed.end, "");
  }

  Bytes wholeLine(Bytes out) const {
    const std::size_t line = edits_.lineOf(out.begin);
    const std::size_t next = edits_.lineBegin(line + 1);
    if (edits_.lineOf(out.end - 1) == line && isBlank(between(edits_.lineBegin(line), out.begin)) &&
        isBlank(between(out.end, next)))
      return {edits_.lineBegin(line), next};
    while (edits_.text()[out.end] == ' ') ++out.end;
    return out;
  }

  // Adds entries before the closing bracket: on lines of their own if the bracket stands on its own line.
  void add(const std::vector<Filler>& added) {
    const std::size_t close = list_.end - 1;
    const std::size_t line = edits_.lineBegin(edits_.lineOf(close));
    const bool own_lines = line > list_.begin && isBlank(between(line, close));
    std::string text;
    for (const Filler& filler : added) {
      const std::string entry = fillerKeys(filler).inLine();
      if (own_lines)
        text.append(indent()).append(entry).append(",").append(edits_.newline());
      else
        text.append(&filler == &added.front() ? " " : ", ").append(entry);
    }
    if (!own_lines && edits_.text()[close - 1] != ' ') text += ' ';
    edits_.replace(own_lines ? line : close, own_lines ? line : close, std::move(text));
  }

  std::string_view indent() const {
    if (entries_.empty()) return "  ";
    const std::string_view line = edits_.line(edits_.lineOf(entries_.back().begin));
    return edits_.lineBegin(edits_.lineOf(entries_.back().begin)) > list_.begin ? indentOf(line) : "  ";
  }

  TextEdits& edits_;
  Bytes list_;
  std::vector<Bytes> entries_;
};

}  // namespace

std::string withFillers(std::string_view text, const std::vector<int>& kept,
                        const std::vector<Filler>& added) {
  const toml::parse_result parsed = toml::parse(text);
  if (!parsed) return std::string(text);
  TextEdits edits(text);
  const toml::node* node = parsed.table().get("filler");
  const toml::array* fillers = node != nullptr ? node->as_array() : nullptr;
  // toml++ gives a list of sections the place of its first section.
  const bool is_list =
      fillers != nullptr && (fillers->empty() || fillers->get(0)->source().begin != fillers->source().begin);
  if (is_list)
    FillerList(edits, *fillers).change(kept, added);
  else
    changeSections(edits, fillers, kept, added);
  return edits.applied();
}

}  // namespace petalproof::plan
