#pragma once
// The text of a journal.

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace petalproof::app {

struct JournalHead {
  std::filesystem::path path;       // of the plan, absolute; empty: nowhere saved
  std::filesystem::path directory;  // what the plan's paths are relative to, absolute
};

std::string headText(const JournalHead& head);
std::string recordText(std::string_view plan);

struct JournalText {
  JournalHead head;  // empty where it is damaged
  std::string plan;  // of the last whole record
};

// Reads a journal from memory; its bytes may be anybody's. Records behind a torn one are found. Takes time in
// proportion to the bytes. Nothing for what isn't a journal, or has no whole record.
std::optional<JournalText> journalFrom(std::string_view bytes);

}  // namespace petalproof::app
