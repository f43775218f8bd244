// Where the program's files go, whose files they may replace, and what it says when they can't be written.

#include "tests/program/run_program.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <thread>
#include <vector>

using namespace petalproof::program;
namespace fs = std::filesystem;

namespace {

// A wall that takes no time, with two shots.
constexpr const char* small_wall = R"(format = 1
title = "Small"
units = "cm"
[wall]
columns = 1
rows = 1
panel = [60, 50]
grid = [["plain"]]
[[bloom]]
name = "sun"
shape = "dahlia"
diameter = 40
colour = "#c98a2b"
[[bloom]]
name = "leaf"
shape = "leaf"
diameter = 24
colour = "#7f9470"
filler = true
[[layout]]
name = "plain"
blooms = [ { bloom = "sun", at = [30, 25] } ]
[[shot]]
name = "front"
sensor = "full frame"
lens = 50
megapixels = 0.05
camera = [0, 25, 100]
aim = [0, 25]
)";

constexpr const char* second_shot =
    "[[shot]]\nname = \"second\"\nsensor = \"full frame\"\nlens = 50\nmegapixels = 0.05\ncamera = [0, 25, "
    "90]\n"
    "aim = [0, 25]\n";

// Every file below the folder with its bytes.
std::map<std::string, std::string> everythingIn(const fs::path& folder) {
  std::map<std::string, std::string> all;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    all[entry.path().lexically_relative(folder).string()] =
        entry.is_regular_file() ? textOf(entry.path()) : "not a file";
  return all;
}

void checkRefused(const TemporaryFolder& folder, const std::vector<std::string>& arguments,
                  const std::string& message) {
  const auto before = everythingIn(folder.path());
  const auto refused = run(arguments, folder.path());
  CHECK(refused.status == 2);
  CHECK(refused.out == "");
  CHECK(refused.err == message + "\n");
  CHECK(everythingIn(folder.path()) == before);
}

void writeTo(const char* path, int stream) {
  const int file = ::open(path, O_WRONLY);
  ::dup2(file, stream);
}

}  // namespace

TEST_CASE("two outputs never share a file or a folder, however it is spelled") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  checkRefused(folder, {"fill", "plan.toml", "--out", "x", "--json", "x"},
               "--out and --json need a place each: x is the same as x");
  checkRefused(folder, {"check", "plan.toml", "--pictures", "d", "--as-seen", "./d"},
               "--pictures and --as-seen need a folder each: ./d is the same as d");
  checkRefused(folder, {"check", "plan.toml", "--pictures", "d", "--as-seen", "d/../d/"},
               "--pictures and --as-seen need a folder each: d/../d/ is the same as d");
  fs::create_directory(folder / "d");
  fs::create_symlink("d", folder / "link");
  checkRefused(folder, {"check", "plan.toml", "--pictures", "d", "--as-seen", "link"},
               "--pictures and --as-seen need a folder each: link is the same as d");
  checkRefused(folder, {"fill", "plan.toml", "--out", "e/", "--pictures", "e"},
               "e/: is a folder; name a file");
  checkRefused(folder, {"fill", "plan.toml", "--out", "plan.toml"},
               "plan.toml: exists already; name a new file");
}

TEST_CASE("an output that can't be written is named before the work") {
  const TemporaryFolder folder;
  // A plan that is wrong: the output is looked at first.
  write(folder / "plan.toml", "wrong");
  checkRefused(folder, {"check", "plan.toml", "--json", "missing/x.json"},
               "missing: there is no such folder; make it, or name another");
  checkRefused(folder, {"fill", "plan.toml", "--out", "missing/x.toml"},
               "missing: there is no such folder; make it, or name another");
  checkRefused(folder, {"new", "missing/x.toml"},
               "missing: there is no such folder; make it, or name another");
  checkRefused(folder, {"check", "plan.toml", "--json", "plan.toml/x.json"},
               "plan.toml: is a file, not a folder");
  checkRefused(folder, {"check", "plan.toml", "--pictures", "plan.toml/d"},
               "plan.toml: is a file, not a folder");
  fs::create_symlink("nowhere", folder / "link");
  checkRefused(folder, {"fill", "plan.toml", "--out", "link"}, "link: exists already; name a new file");
  checkRefused(folder, {"check", "plan.toml", "--pictures", "link"},
               "link: is a link to nothing; name a folder");
}

TEST_CASE("in a folder of pictures only petalproof's own files are replaced") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  REQUIRE(run({"check", "plan.toml", "--pictures", "out", "--quiet"}, folder.path()).status == 0);
  write(folder / "out/2-second.png", "my holiday");
  // The name isn't needed yet.
  CHECK(run({"check", "plan.toml", "--pictures", "out", "--quiet"}, folder.path()).status == 0);
  write(folder / "plan.toml", std::string(small_wall) + second_shot);
  const std::vector<std::string> again{"check", "plan.toml", "--pictures", "out"};
  checkRefused(
      folder, again,
      "out/2-second.png: is a file that petalproof did not write; move it away, or name another folder");
  fs::remove(folder / "out/2-second.png");
  CHECK(run({"check", "plan.toml", "--pictures", "out", "--quiet"}, folder.path()).status == 0);
  // A picture of an earlier run goes, one that was painted over stays.
  write(folder / "plan.toml", small_wall);
  CHECK(run({"check", "plan.toml", "--pictures", "out", "--quiet"}, folder.path()).status == 0);
  CHECK_FALSE(fs::exists(folder / "out/2-second.png"));
  write(folder / "out/1-front.png", "painted over");
  checkRefused(
      folder, again,
      "out/1-front.png: was changed since petalproof wrote it; move it away, or name another folder");
  fs::remove(folder / "out/1-front.png");
  write(folder / "mine.png", "my own");
  fs::create_symlink("../mine.png", folder / "out/1-front.png");
  CHECK(run(again, folder.path()).status == 2);
  CHECK(textOf(folder / "mine.png") == "my own");
}

TEST_CASE("a marker proves nothing about files that petalproof didn't write") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  fs::create_directory(folder / "out");
  write(folder / "out/photo.png", "my own");
  write(folder / "out/1-front.png", "my own");
  const std::string start = "files written by petalproof:";
  // As earlier versions wrote it, and with made-up sizes and hashes.
  write(folder / "out/.petalproof-files",
        start + "\nphoto.png\n1-front.png\n../plan.toml\n..\n/etc/passwd\n");
  CHECK(run({"check", "plan.toml", "--pictures", "out"}, folder.path()).status == 2);
  write(folder / "out/.petalproof-files",
        start + " pictures with marks\n0123456789abcdef 6 1-front.png\n0123456789abcdef 6 ../plan.toml\n");
  CHECK(run({"check", "plan.toml", "--pictures", "out"}, folder.path()).status == 2);
  fs::remove(folder / "out/1-front.png");
  CHECK(run({"check", "plan.toml", "--pictures", "out", "--quiet"}, folder.path()).status == 0);
  CHECK(textOf(folder / "out/photo.png") == "my own");
  CHECK(textOf(folder / "plan.toml") == small_wall);
  REQUIRE(::mkfifo((folder / "fifo").c_str(), 0600) == 0);
  fs::create_directory(folder / "odd");
  fs::rename(folder / "fifo", folder / "odd/.petalproof-files");
  CHECK(run({"check", "plan.toml", "--pictures", "odd"}, folder.path()).status == 2);
}

TEST_CASE("tables don't go over tables that were edited, nor among pictures, nor over the plan's own grid") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  REQUIRE(run({"tables", "plan.toml", "--out", "tables"}, folder.path()).status == 0);
  CHECK(run({"tables", "plan.toml", "--out", "tables"}, folder.path()).status == 0);
  write(folder / "tables/blooms.csv", textOf(folder / "tables/blooms.csv") + "rose,7,3,red\n");
  checkRefused(
      folder, {"tables", "plan.toml", "--out", "tables"},
      "tables/blooms.csv: was changed since petalproof wrote it; move it away, or name another folder");
  REQUIRE(run({"check", "plan.toml", "--pictures", "pictures", "--quiet"}, folder.path()).status == 0);
  checkRefused(folder, {"tables", "plan.toml", "--out", "pictures"},
               "pictures: this folder is for pictures with marks; name another for tables, new or empty");
  REQUIRE(run({"tables", "plan.toml", "--out", "own"}, folder.path()).status == 0);
  std::string by_file = small_wall;
  by_file.replace(by_file.find("[[\"plain\"]]"), 11, "\"own/grid.csv\"");
  write(folder / "by_file.toml", by_file);
  checkRefused(folder, {"tables", "by_file.toml", "--out", "own"},
               "own/grid.csv: is what this run reads; name another folder");
}

TEST_CASE("what a killed run left is cleaned up and locks no folder") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  fs::create_directory(folder / "out");
  write(folder / "out/.petalproof-0123abcd.part", "half a picture");
  write(folder / ".petalproof-89abcdef.part", "half a report");
  write(folder / ".petalproof-mine.part", "not a draft's name");
  CHECK(
      run({"check", "plan.toml", "--pictures", "out", "--json", "x.json", "--quiet"}, folder.path()).status ==
      0);
  CHECK_FALSE(fs::exists(folder / "out/.petalproof-0123abcd.part"));
  CHECK_FALSE(fs::exists(folder / ".petalproof-89abcdef.part"));
  CHECK(textOf(folder / ".petalproof-mine.part") == "not a draft's name");
}

TEST_CASE("an answer that can't be delivered is exit status 3, without a crash") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  const std::vector<std::vector<std::string>> commands{
      {"check", "plan.toml"}, {"--help"}, {"--version"}, {"tables", "plan.toml", "--out", "tables"}};
  for (const auto& words : commands) {
    CAPTURE(words[0]);
    const auto full = run(words, folder.path(), [] { writeTo("/dev/full", STDOUT_FILENO); });
    CHECK(full.status == 3);
    CHECK(full.err.starts_with("petalproof: the answer can't be written to standard output"));
    const auto closed = run(words, folder.path(), [] { ::close(STDOUT_FILENO); });
    CHECK(closed.status == 3);
    const auto unread = run(words, folder.path(), [] {
      int ends[2] = {};
      if (::pipe(ends) != 0) _exit(126);
      ::dup2(ends[1], STDOUT_FILENO);
      ::close(ends[0]);
      ::close(ends[1]);
    });
    CHECK(unread.status == 3);
    CHECK(unread.err.starts_with("petalproof: the answer can't be written to standard output"));
  }
  // Files are written whole, not into what was standard output's number.
  const auto closed = run({"check", "plan.toml", "--json", "x.json", "--quiet"}, folder.path(), [] {
    ::close(STDOUT_FILENO);
    ::close(STDERR_FILENO);
  });
  CHECK(closed.status == 0);
  CHECK(textOf(folder / "x.json").substr(0, 1) == "{");
  for (const bool close : {false, true}) {
    const auto unheard = [close] {
      close ? void(::close(STDERR_FILENO)) : writeTo("/dev/full", STDERR_FILENO);
    };
    CHECK(run({"check", "nowhere.toml"}, folder.path(), unheard).status == 2);
    CHECK(run({"chek"}, folder.path(), unheard).status == 2);
  }
}

TEST_CASE("pipes, devices and sockets are no plans, grids, meshes or tables") {
  const TemporaryFolder folder;
  REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
  checkRefused(folder, {"check", "pipe"}, "pipe: can't be read: it is a pipe, not a file");
  checkRefused(folder, {"check", "/dev/zero"}, "/dev/zero: can't be read: it is a device, not a file");
  checkRefused(folder, {"check", "."}, ".: can't be read: it is a folder, not a file");
  checkRefused(folder, {"fill", "pipe"}, "pipe: can't be read: it is a pipe, not a file");
  checkRefused(folder, {"new", "my.toml", "--blooms", "pipe"},
               "pipe: can't be read: it is a pipe, not a file");
  checkRefused(folder, {"new", "my.toml", "--grid", "pipe", "--recipe", "large=1"},
               "pipe: can't be read: it is a pipe, not a file");
  std::string by_pipe = small_wall;
  by_pipe.replace(by_pipe.find("[[\"plain\"]]"), 11, "\"pipe\"");
  write(folder / "grid.toml", by_pipe);
  CHECK(run({"check", "grid.toml"}, folder.path()).err ==
        "grid.toml:8:8: the grid \"pipe\" can't be read: it is a pipe, not a file\n");
  std::string mesh = small_wall;
  mesh.replace(mesh.find("shape = \"dahlia\""), 16, "mesh = \"pipe\"");
  write(folder / "mesh.toml", mesh);
  CHECK(run({"check", "mesh.toml"}, folder.path()).err ==
        "mesh.toml:11:8: the mesh pipe can't be read: it is a pipe, not a file\n");
  // What comes through standard input is read.
  write(folder / "plan.toml", small_wall);
  const std::string plan = (folder / "plan.toml").string();
  const auto piped = run({"check", "/dev/stdin", "--quiet"}, folder.path(), [] {
    int ends[2] = {};
    if (::pipe(ends) != 0) _exit(126);
    const std::string text = small_wall;
    if (::write(ends[1], text.data(), text.size()) < 0) _exit(126);
    ::dup2(ends[0], STDIN_FILENO);
    ::close(ends[1]);
  });
  CHECK(piped.status == 0);
  CHECK(piped.err == "");
}

TEST_CASE("a pipe takes a report where it is read, and isn't waited for where it is not") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
  const std::vector<std::string> words{"check", "plan.toml", "--quiet", "--json", "pipe"};
  const auto unread = run(words, folder.path());
  CHECK(unread.status == 3);
  CHECK(unread.err == "pipe: can't be written: nobody reads this pipe\n");
  std::string got;
  std::jthread reader([&] { got = textOf(folder / "pipe"); });
  CHECK(run(words, folder.path()).status == 0);
  reader.join();
  CHECK(got.starts_with("{"));
  CHECK(got.ends_with("}\n"));
  CHECK(fs::is_fifo(folder / "pipe"));
}

TEST_CASE("long names make files, and titles that are too long make no plan") {
  const TemporaryFolder folder;
  std::string name;
  for (int k = 0; k < 100; ++k) name += "\u82b1";  // three bytes each
  std::string text = small_wall;
  text.replace(text.find("\"front\""), 7, "\"" + name + "\"");
  write(folder / "plan.toml", text);
  CHECK(run({"check", "plan.toml", "--quiet", "--as-seen", "seen"}, folder.path()).status == 0);
  const std::string title(201, 't');
  checkRefused(folder, {"new", "my.toml", "--recipe", "large=1", "--size", "24x20", "--title", title},
               "the title has 201 characters, 200 are the most");
  const auto starter = run({"new", "my.toml", "--title", title}, folder.path());
  CHECK(starter.status == 2);
  CHECK(starter.err.find("\"title\" has 201 characters, 200 are the most") != std::string::npos);
  CHECK_FALSE(fs::exists(folder / "my.toml"));
}

TEST_CASE("100 problems are printed, the others counted") {
  const TemporaryFolder folder;
  std::string text = small_wall;
  for (int k = 0; k < 130; ++k) text += "[[filler]]\nbloom = \"nobody\"\nat = [1, 1]\n";
  write(folder / "plan.toml", text);
  const auto wrong = run({"check", "plan.toml"}, folder.path());
  CHECK(wrong.status == 2);
  std::size_t lines = 0;
  for (const char c : wrong.err) lines += c == '\n' ? 1U : 0U;
  CHECK(lines == 101);
  CHECK(wrong.err.ends_with("\n30 others are not listed\n"));
}

TEST_CASE("a disk without room at any size leaves every file as it was") {
  const TemporaryFolder folder;
  write(folder / "plan.toml", small_wall);
  struct Full {
    std::vector<std::string> words;
    std::vector<rlim_t> sizes;  // each too small for a file of the command
  };
  const std::vector<Full> commands{
      {{"check", "plan.toml", "--quiet", "--json", "x.json", "--pictures", "out", "--as-seen", "seen"},
       {100, 50'000}},
      {{"fill", "plan.toml", "--quiet", "--walls", "0", "--out", "filled.toml", "--json", "y.json",
        "--pictures", "more"},
       {2'500, 600'000}},
      {{"tables", "plan.toml", "--out", "tables"}, {0, 1, 5, 50}},
      {{"new", "new.toml"}, {0, 1, 1'000}}};
  const auto before = everythingIn(folder.path());
  for (const auto& [words, sizes] : commands)
    for (const rlim_t size : sizes) {
      CAPTURE(words[0]);
      CAPTURE(size);
      const auto full = run(words, folder.path(), [limit = rlimit{size, size}] {
        ::setrlimit(RLIMIT_FSIZE, &limit);
        ::signal(SIGXFSZ, SIG_DFL);
        // What it says goes where no size is told.
        writeTo("/dev/null", STDOUT_FILENO);
        writeTo("/dev/null", STDERR_FILENO);
      });
      CHECK(full.status == 3);
      CHECK(everythingIn(folder.path()) == before);
    }
}
