#include "viewer/complain.h"

#include "engine/base/write_all.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>

namespace petalproof {

void print(const std::vector<Problem>& problems, const char* prefix) {
  const std::size_t printed = std::min(problems.size(), most_printed_problems);
  for (std::size_t k = 0; k < printed; ++k) sayToErrors(fmt::format("{}{}\n", prefix, toString(problems[k])));
  if (const std::size_t others = problems.size() - printed; others > 0)
    sayToErrors(fmt::format("{}{} other{} not listed\n", prefix, others, others == 1 ? " is" : "s are"));
}

ExitStatus complain(const std::string& message, ExitStatus status) {
  sayToErrors(message + "\n");
  return status;
}

ExitStatus complainByName(const std::string& message, ExitStatus status) {
  return complain("petalproof: " + message, status);
}

void sayToErrors(std::string_view text) {
  writeAll(text, [](std::string_view rest) { return ::write(STDERR_FILENO, rest.data(), rest.size()); });
}

void say(std::string_view text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size()) throw Undelivered{errno};
}

void deliver() {
  if (std::fflush(stdout) != 0) throw Undelivered{errno};
  if (std::ferror(stdout) != 0) throw Undelivered{0};
}

}  // namespace petalproof
