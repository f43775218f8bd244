// All of a command's outputs are written, or none: with every call failing once, and with other programs that
// put files in the way at the last moment.

#include "engine/base/stopping.h"
#include "tests/program/run_program.h"
#include "viewer/output.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

using namespace petalproof;
using petalproof::program::TemporaryFolder;
using petalproof::program::textOf;
namespace fs = std::filesystem;

namespace {

constexpr const char* signature = "{ \"report\"";

std::map<std::string, std::string> bytesOfAllIn(const fs::path& folder) {
  std::map<std::string, std::string> all;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    all[entry.path().lexically_relative(folder).string()] =
        entry.is_regular_file() ? textOf(entry.path()) : "not a file";
  return all;
}

std::vector<Output> picturesIn(const TemporaryFolder& folder, std::vector<NamedFile> files) {
  std::vector<Output> outputs;
  addFolder(outputs, "--pictures", folder / "out", FolderHolds::pictures);
  outputs[0].files = std::move(files);
  return outputs;
}

// A plan that is new, a report and pictures that were there, and a folder below one that isn't.
std::vector<Output> allKinds(const TemporaryFolder& folder) {
  std::vector<Output> outputs;
  addNewFile(outputs, "--out", folder / "plan.toml");
  addReport(outputs, "--json", folder / "report.json", signature);
  outputs[0].files = {{"", "a plan"}};
  outputs[1].files = {{"", std::string(signature) + ": 2 }"}};
  outputs.push_back(picturesIn(folder, {{"1-a.png", "new a"}, {"3-c.png", "c"}})[0]);
  addFolder(outputs, "--as-seen", folder / "new/seen", FolderHolds::pictures_as_seen);
  outputs[3].files = {{"1-a.png", "as seen"}};
  return outputs;
}

void writeEarlierRun(const TemporaryFolder& folder) {
  program::write(folder / "report.json", std::string(signature) + ": 1 }");
  program::write(folder / "mine.txt", "mine");
  REQUIRE_FALSE(writeOutputs(picturesIn(folder, {{"1-a.png", "old a"}, {"2-b.png", "b"}})));
}

// Calls of which the one with this number fails; of one kind, or of all.
struct Failing {
  int fails = 0;
  std::shared_ptr<int> made = std::make_shared<int>(0);

  bool now() const { return ++*made == fails; }
  FileCalls calls() const {
    const FileCalls real = systemCalls();
    const auto fail = [](int error) { return errno = error, -1; };
    FileCalls calls;
    calls.open = [=, *this](const char* path, int flags, mode_t mode) {
      return now() ? fail(EACCES) : real.open(path, flags, mode);
    };
    calls.write = [=, *this](int file, const void* bytes, std::size_t count) {
      return now() ? ssize_t{fail(ENOSPC)} : real.write(file, bytes, count);
    };
    calls.sync = [=, *this](int file) { return now() ? fail(EIO) : real.sync(file); };
    calls.rename = [=, *this](const char* from, const char* to, unsigned flags) {
      return now() ? fail(EROFS) : real.rename(from, to, flags);
    };
    calls.make_folder = [=, *this](const char* path, mode_t mode) {
      return now() ? fail(ENOSPC) : real.make_folder(path, mode);
    };
    return calls;
  }
};

}  // namespace

TEST_CASE("whichever call fails, every file is as it was, and the answer names what couldn't be written") {
  int failures = 0;
  for (int number = 1;; ++number) {
    CAPTURE(number);
    REQUIRE(number < 1000);
    const TemporaryFolder folder;
    writeEarlierRun(folder);
    const auto before = bytesOfAllIn(folder.path());
    const Failing failing{number};
    WriteOptions options;
    options.calls = failing.calls();
    const auto wrong = writeOutputs(allKinds(folder), options);
    if (*failing.made < number) {
      CHECK_FALSE(wrong);
      break;
    }
    ++failures;
    REQUIRE(wrong);
    CHECK(wrong->starts_with(folder.path().string() + "/"));
    CHECK(bytesOfAllIn(folder.path()) == before);
  }
  // Seven files and markers take four calls each, two folders one.
  CHECK(failures == 7 * 4 + 2);
}

TEST_CASE("whatever is written is there in the end, and what an earlier run wrote is gone") {
  const TemporaryFolder folder;
  writeEarlierRun(folder);
  REQUIRE_FALSE(writeOutputs(allKinds(folder)));
  const auto all = bytesOfAllIn(folder.path());
  CHECK(all.size() == 11);
  CHECK(all.at("plan.toml") == "a plan");
  CHECK(all.at("report.json") == std::string(signature) + ": 2 }");
  CHECK(all.at("out/1-a.png") == "new a");
  CHECK(all.at("out/3-c.png") == "c");
  CHECK_FALSE(all.contains("out/2-b.png"));
  CHECK(all.at("new/seen/1-a.png") == "as seen");
  CHECK(all.at("mine.txt") == "mine");
}

TEST_CASE("a file that appears at the last moment stays, and nothing is written") {
  for (const std::string name :
       {"plan.toml", "report.json", "out/3-c.png", "out/1-a.png", "new/seen/1-a.png"}) {
    CAPTURE(name);
    const TemporaryFolder folder;
    writeEarlierRun(folder);
    auto before = bytesOfAllIn(folder.path());
    WriteOptions options;
    const FileCalls real = systemCalls();
    bool put = false;
    options.calls.rename = [&](const char* from, const char* to, unsigned flags) {
      if (!put) program::write(folder / name, "somebody's");
      put = true;
      return real.rename(from, to, flags);
    };
    const auto wrong = writeOutputs(allKinds(folder), options);
    REQUIRE(wrong);
    CHECK(wrong->starts_with((folder / name).string() + ": "));
    before[name] = "somebody's";
    if (name.starts_with("new")) before["new"] = before["new/seen"] = "not a file";
    CHECK(bytesOfAllIn(folder.path()) == before);
  }
}

TEST_CASE("a file that somebody changed between the look and the exchange is put back") {
  const TemporaryFolder folder;
  writeEarlierRun(folder);
  WriteOptions options;
  const FileCalls real = systemCalls();
  options.calls.rename = [&](const char* from, const char* to, unsigned flags) {
    if (std::string(to) == (folder / "out/1-a.png").string()) program::write(to, "painted over");
    return real.rename(from, to, flags);
  };
  CHECK(writeOutputs(allKinds(folder), options) ==
        (folder / "out/1-a.png").string() +
            ": was changed since petalproof wrote it; move it away, or name another folder");
  CHECK(textOf(folder / "out/1-a.png") == "painted over");
  CHECK_FALSE(fs::exists(folder / "plan.toml"));
}

TEST_CASE("a run that is stopped while it writes leaves everything as it was") {
  for (int steps = 1; steps < 8; ++steps) {
    CAPTURE(steps);
    const TemporaryFolder folder;
    writeEarlierRun(folder);
    const auto before = bytesOfAllIn(folder.path());
    int step = 0;
    WriteOptions options;
    options.goes_on = [&] { return ++step != steps; };
    CHECK_THROWS_AS(writeOutputs(allKinds(folder), options), Stopped);
    CHECK(bytesOfAllIn(folder.path()) == before);
  }
}

TEST_CASE("after a run that was cut off between two files the next one goes on") {
  const TemporaryFolder folder;
  writeEarlierRun(folder);
  // As if the program had been killed once the marker and no picture had taken its place.
  const std::string old_a = textOf(folder / "out/1-a.png");
  REQUIRE_FALSE(writeOutputs(picturesIn(folder, {{"1-a.png", "new a"}, {"2-b.png", "b"}})));
  program::write(folder / "out/1-a.png", old_a);
  CHECK_FALSE(writeOutputs(picturesIn(folder, {{"1-a.png", "newer a"}})));
  CHECK(textOf(folder / "out/1-a.png") == "newer a");
}
