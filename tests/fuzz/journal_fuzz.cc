// The journal's reader on any bytes. Where it finds work, a journal written of that work reads the same.

#include "viewer/app/internal/journal_text.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace petalproof::app;
  const std::string bytes(data, data + size);
  const auto found = journalFrom(bytes);
  if (found) {
    const std::string again = headText(found->head) + recordText(found->plan);
    const auto same = journalFrom(again);
    if (!same || same->plan != found->plan || same->head.path != found->head.path) std::abort();
  }
  // Behind whatever is torn, a whole record is found.
  const std::string journal = headText({"/walls/wall.toml", "/walls"}) + bytes + recordText("last");
  const auto last = journalFrom(journal);
  const bool gave_up = bytes.find("plan ") != std::string::npos;
  if (!gave_up && (!last || last->plan != "last")) std::abort();
  return 0;
}
