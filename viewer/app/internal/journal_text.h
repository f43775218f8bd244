#pragma once
// The text of a journal: writes its head and its records, and reads the last plan back from bytes that may be
// damaged. Journal (journal.h) calls it; the format is described there.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof::app {

struct JournalHead {
  std::filesystem::path path;       // of the plan, absolute; empty: never saved
  std::filesystem::path directory;  // absolute; the plan's paths are relative to it
};

std::string headText(const JournalHead& head);
std::string recordText(std::string_view plan);

struct JournalText {
  JournalHead head;  // empty where the head is damaged
  std::string plan;  // of the last whole record
};

// Reads a journal from memory; its bytes may come from anybody. Finds records behind a torn record. Takes
// time in proportion to the bytes. Nothing where the bytes are no journal or hold no whole record.
std::optional<JournalText> journalFrom(std::string_view bytes);

}  // namespace petalproof::app
