// Petalproof's command line. The only place that catches and the only one that decides the exit status.

#include "viewer/command.h"
#include "viewer/complain.h"
#include "viewer/interrupt.h"

#include "engine/base/error_text.h"
#include "engine/base/nearest_name.h"
#include "engine/base/stopping.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <exception>
#include <filesystem>
#include <new>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace petalproof {
namespace {

constexpr const char* description =
    "Petalproof checks a planned wall of paper blooms through the photographer's lens, and finds the "
    "fillers\n"
    "that hide what shows.\n"
    "`petalproof` opens the window; `petalproof my-wall.toml` opens it on a plan. The commands need no "
    "display:\n"
    "start with `petalproof new my-wall.toml`, then `petalproof check my-wall.toml`.";

std::vector<std::string> commandNames() {
  std::vector<std::string> names;
  for (const Command& command : allCommands()) names.emplace_back(command.name);
  return names;
}

// The arguments with the window's command where no command is given: nothing at all, or a plan first.
std::vector<std::string> withCommand(std::vector<std::string> words) {
  const auto names = commandNames();
  const bool is_command =
      !words.empty() && std::find(names.begin(), names.end(), words.front()) != names.end();
  const bool is_plan = !words.empty() && !is_command && !words.front().starts_with('-') &&
                       std::filesystem::exists(words.front());
  if (words.empty() || is_plan) words.insert(words.begin(), "view");
  return words;
}

// What to say about a first word that is no command; nothing where it is one, or an option.
std::optional<std::string> wrongFirstWord(const std::string& word) {
  const auto names = commandNames();
  if (word.starts_with('-')) return std::nullopt;
  for (const auto& name : names) {
    if (name == word) return std::nullopt;
  }
  return fmt::format("unknown command \"{}\"{}; see petalproof --help", word, didYouMean(word, names));
}

// Adds every command to `app`; the one that the arguments name leaves its action in `chosen`.
void addCommands(CLI::App& app, Action& chosen) {
  for (const Command& command : allCommands()) {
    CLI::App* sub = app.add_subcommand(std::string(command.name), std::string(command.help));
    Action action = command.setUp(*sub);
    sub->callback([&chosen, action] { chosen = action; });
  }
  app.require_subcommand(1);
}

// A write to a closed pipe or a full disk returns an error instead of ending the program; and a file opened
// later never takes the number of a closed standard stream.
void prepareStreams() {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (::fcntl(stream, F_GETFD) >= 0 || errno != EBADF) continue;
    // Open, and good for nothing: the lowest number that is free is this one.
    const int made = ::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
    static_cast<void>(made);
  }
}

ExitStatus run(int argc, char** argv) {
  CLI::App app(description, "petalproof");
  app.set_version_flag("--version", "petalproof " PETALPROOF_VERSION);
  app.get_formatter()->column_width(34);
  Action chosen;
  addCommands(app, chosen);
  std::vector<std::string> words = withCommand({argv + 1, argv + argc});
  if (const auto wrong = wrongFirstWord(words.front()))
    return complainByName(*wrong, ExitStatus::input_wrong);
  std::optional<InterruptWatch> interrupts;
  if (words.front() != "view") interrupts.emplace();
  try {
    std::reverse(words.begin(), words.end());  // as CLI11 takes them
    app.parse(std::move(words));
  } catch (const CLI::Success& asked) {
    app.exit(asked);
    return ExitStatus::done;
  } catch (const CLI::ParseError& error) {
    return complainByName(error.what(), ExitStatus::input_wrong);
  }
  return chosen();
}

}  // namespace
}  // namespace petalproof

int main(int argc, char** argv) {
  using petalproof::ExitStatus;
  petalproof::prepareStreams();
  ExitStatus status = ExitStatus::failed;
  try {
    status = petalproof::run(argc, argv);
    petalproof::deliver();
  } catch (const petalproof::Stopped&) {
    petalproof::endByInterrupt();
  } catch (const petalproof::Undelivered& wrong) {
    const std::string reason = wrong.error == 0 ? "" : ": " + petalproof::errorText(wrong.error);
    status = petalproof::complainByName("the answer can't be written to standard output" + reason,
                                        ExitStatus::failed);
  } catch (const std::bad_alloc&) {
    status = petalproof::complainByName("not enough memory", ExitStatus::failed);
  } catch (const std::exception& error) {
    status = petalproof::complainByName(error.what(), ExitStatus::failed);
  }
  return static_cast<int>(status);
}
