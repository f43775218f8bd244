#include "engine/base/file.h"

#include "engine/base/draft.h"
#include "engine/base/error_text.h"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <thread>
#include <vector>

using namespace petalproof;
namespace fs = std::filesystem;

namespace {

// A folder of its own, gone afterwards.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (fs::temp_directory_path() / "petalproof-test-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    fs::permissions(path_, fs::perms::owner_all);
    fs::remove_all(path_);
  }
  fs::path operator/(const std::string& name) const { return path_ / name; }
  const fs::path& path() const { return path_; }

  std::vector<std::string> names() const {
    std::vector<std::string> all;
    for (const auto& entry : fs::directory_iterator(path_)) all.push_back(entry.path().filename().string());
    return all;
  }

 private:
  fs::path path_;
};

std::string contents(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

// No file larger than this may be written meanwhile: what a full disk does to a program.
class SmallFiles {
 public:
  explicit SmallFiles(rlim_t bytes) {
    ::getrlimit(RLIMIT_FSIZE, &before_);
    rlimit limit = before_;
    limit.rlim_cur = bytes;
    ::setrlimit(RLIMIT_FSIZE, &limit);
    handler_ = std::signal(SIGXFSZ, SIG_IGN);
  }
  SmallFiles(const SmallFiles&) = delete;
  SmallFiles& operator=(const SmallFiles&) = delete;
  ~SmallFiles() {
    ::setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, handler_);
  }

 private:
  rlimit before_ = {};
  void (*handler_)(int) = nullptr;
};

}  // namespace

TEST_CASE("a file is written and read back, byte for byte") {
  const TemporaryFolder folder;
  std::string bytes = "petals\n\r";
  bytes += '\0';
  bytes += "\xff end";
  CHECK_FALSE(writeFile(folder / "a.bin", bytes, Existing::refuse));
  const auto back = readFile(folder / "a.bin", 1000, "a.bin");
  REQUIRE(back);
  CHECK(*back.value == bytes);
  CHECK(folder.names() == std::vector<std::string>{"a.bin"});
}

TEST_CASE("an existing file is refused or replaced") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(writeFile(folder / "a", "old", Existing::refuse));
  CHECK(writeFile(folder / "a", "new", Existing::refuse) == "it exists already");
  CHECK(contents(folder / "a") == "old");
  CHECK_FALSE(writeFile(folder / "a", "new", Existing::replace));
  CHECK(contents(folder / "a") == "new");
  CHECK(folder.names() == std::vector<std::string>{"a"});
}

TEST_CASE("of many who refuse to replace, one writes") {
  const TemporaryFolder folder;
  std::atomic<int> written = 0;
  {
    std::vector<std::jthread> threads;
    for (int k = 0; k < 8; ++k)
      threads.emplace_back([&, k] {
        if (!writeFile(folder / "a", std::string(10'000, static_cast<char>('a' + k)), Existing::refuse))
          ++written;
      });
  }
  CHECK(written == 1);
  const std::string found = contents(folder / "a");
  CHECK(found == std::string(10'000, found.at(0)));
  CHECK(folder.names() == std::vector<std::string>{"a"});
}

TEST_CASE("a file keeps its mode when it is replaced, and a link keeps its target") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(writeFile(folder / "a", "old", Existing::refuse));
  fs::permissions(folder / "a", fs::perms::owner_read | fs::perms::owner_write);
  fs::create_symlink("a", folder / "link");
  CHECK_FALSE(writeFile(folder / "link", "new", Existing::replace));
  CHECK(fs::is_symlink(folder / "link"));
  CHECK(contents(folder / "a") == "new");
  CHECK(fs::status(folder / "a").permissions() == (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("what can't be written says why and leaves nothing behind") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(writeFile(folder / "a", "old", Existing::refuse));
  CHECK(writeFile(folder.path(), "x", Existing::replace) == "it is a folder, not a file");
  CHECK(writeFile(folder / "no/b", "x", Existing::replace) == "there is no such file or folder");
  CHECK(writeFile(folder / "a/b", "x", Existing::replace) == "a part of its path is a file, not a folder");
  CHECK(writeFile(folder / std::string(300, 'n'), "x", Existing::refuse) == "its name is too long");
  CHECK(folder.names() == std::vector<std::string>{"a"});
}

TEST_CASE("a folder that may not be written to is named as the reason") {
  if (::geteuid() == 0) return;  // the superuser may write everywhere
  const TemporaryFolder folder;
  fs::permissions(folder.path(), fs::perms::owner_read | fs::perms::owner_exec);
  CHECK(writeFile(folder / "a", "x", Existing::refuse) == "permission denied");
  CHECK(folder.names().empty());
}

TEST_CASE("a disk without room leaves the old file whole") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(writeFile(folder / "a", "old", Existing::refuse));
  {
    const SmallFiles small(4096);
    CHECK(writeFile(folder / "a", std::string(100'000, 'x'), Existing::replace) ==
          "the file would be larger than is allowed here");
    CHECK(writeFile(folder / "b", std::string(100'000, 'x'), Existing::refuse).has_value());
  }
  CHECK(contents(folder / "a") == "old");
  CHECK(folder.names() == std::vector<std::string>{"a"});
}

TEST_CASE("a pipe is written to, not replaced") {
  const TemporaryFolder folder;
  const std::string pipe = (folder / "pipe").string();
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  std::string got;
  std::jthread reader([&] { got = contents(pipe); });
  CHECK_FALSE(writeFile(pipe, "through", Existing::replace));
  reader.join();
  CHECK(got == "through");
  CHECK(fs::is_fifo(pipe));
}

TEST_CASE("reading stops at the limit") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(writeFile(folder / "a", std::string(100, 'x'), Existing::refuse));
  CHECK(readFile(folder / "a", 100, "a"));
  const auto over = readFile(folder / "a", 99, "plans/a");
  REQUIRE_FALSE(over);
  CHECK(over.problems == std::vector{Problem{Place{"plans/a"}, "is too large, at most 99 bytes are read"}});
  const auto more = readFile(folder / "a", 0, "a");
  REQUIRE_FALSE(more);
}

TEST_CASE("what can't be read says why") {
  const TemporaryFolder folder;
  const auto missing = readFile(folder / "none.toml", 100, "none.toml");
  REQUIRE_FALSE(missing);
  CHECK(toString(missing.problems.front()) == "none.toml: can't be read: there is no such file or folder");
  const auto directory = readFile(folder.path(), 100, "here");
  REQUIRE_FALSE(directory);
  CHECK(toString(directory.problems.front()) == "here: can't be read: it is a folder, not a file");
}

TEST_CASE("pipes and devices aren't waited for, but for those that the program was given") {
  const TemporaryFolder folder;
  const std::string pipe = (folder / "pipe").string();
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  const auto whyNot = [](const fs::path& path) { return readFile(path, 100, "it").problems.front().message; };
  CHECK(whyNot(pipe) == "can't be read: it is a pipe, not a file");
  CHECK(whyNot("/dev/zero") == "can't be read: it is a device, not a file");
  int ends[2] = {};
  REQUIRE(::pipe(ends) == 0);
  std::jthread writer([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    CHECK(::write(ends[1], "late", 4) == 4);
    ::close(ends[1]);
  });
  const auto given = readFile(fmt::format("/dev/fd/{}", ends[0]), 100, "it");
  REQUIRE(given);
  CHECK(*given.value == "late");
  ::close(ends[0]);
}

TEST_CASE("drafts that a killed program left are removed, those of a program that runs are not") {
  const TemporaryFolder folder;
  const auto put = [&](const std::string& name) { std::ofstream(folder / name) << "x"; };
  put(".petalproof-0123abcd.part");
  put(".petalproof-0123abc.part");
  put(".petalproof-0123abcd.part.txt");
  Draft running(folder / "a");
  REQUIRE_FALSE(running.write("text"));
  removeLeftDrafts(folder.path());
  CHECK(folder.names().size() == 3);
  CHECK_FALSE(fs::exists(folder / ".petalproof-0123abcd.part"));
  CHECK_FALSE(running.placeNew());
  running.keep();
  CHECK(contents(folder / "a") == "text");
}

TEST_CASE("an empty file is read as such") {
  const TemporaryFolder folder;
  REQUIRE_FALSE(writeFile(folder / "a", "", Existing::refuse));
  const auto back = readFile(folder / "a", 0, "a");
  REQUIRE(back);
  CHECK(back.value->empty());
}

TEST_CASE("a new file has the permissions asked for, and replaces nothing") {
  const TemporaryFolder folder;
  const mode_t mask = ::umask(0);
  for (const unsigned mode : {0600U, 0640U, 0444U}) {
    CAPTURE(mode);
    const fs::path path = folder / std::to_string(mode);
    CHECK_FALSE(writeNewFile(path, "old", static_cast<fs::perms>(mode)));
    CHECK(static_cast<unsigned>(fs::status(path).permissions()) == mode);
    CHECK(writeNewFile(path, "new", fs::perms::owner_all) == errorText(EEXIST));
    CHECK(contents(path) == "old");
  }
  ::umask(mask);
  CHECK(errorText(ENOSPC) == "the disk is full");
}
