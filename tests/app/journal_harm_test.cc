// A journal may be anybody's: a link, a pipe, a copy from elsewhere, a file made to harm. And other programs
// may remove or change the one that a window writes.

#include "engine/plan/write_plan.h"
#include "tests/app/scratch_folder.h"
#include "tests/app/test_plans.h"
#include "viewer/app/internal/journal_text.h"
#include "viewer/app/journal.h"
#include "viewer/app/session.h"

#include <doctest/doctest.h>

#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <chrono>
#include <cstring>
#include <fstream>
#include <optional>
#include <string>

using namespace petalproof;
using namespace petalproof::plan;
using namespace petalproof::app;
namespace fs = std::filesystem;

namespace {

LoadedPlan titled(const std::string& words) {
  LoadedPlan plan = *smallPlan();
  plan.plan.title = words;
  return plan;
}

Action editedTitle(const std::string& words) { return Edit{SetTitle{words}}; }

struct HarmedPlace {
  ScratchFolder folder;
  fs::path plan = folder.path() / "wall.toml";
  fs::path state = folder.path() / "state";
  fs::path journal = folder.path() / ".wall.toml.journal";
  fs::path second = folder.path() / ".wall.toml.2.journal";
  HarmedPlace() { write(plan, writePlan(smallPlan()->plan)); }

  SessionOptions options() const {
    SessionOptions options;
    options.live = false;
    options.state_folder = state;
    return options;
  }
  // What a window that was killed leaves behind.
  void leaveWork(const std::string& words) const {
    Journal left(plan, state);
    REQUIRE(!left.write(titled(words), true));
  }
  std::optional<std::string> titleFound() const {
    const auto work = workOn(plan, state);
    return work ? std::optional(work->plan->plan.title) : std::nullopt;
  }
};

std::string journalOf(const fs::path& plan, const fs::path& directory, const std::string& words) {
  return headText({plan, directory}) + recordText(writePlan(titled(words).plan));
}

unsigned modeOf(const fs::path& path) {
  struct stat status = {};
  REQUIRE(::lstat(path.c_str(), &status) == 0);
  return status.st_mode & 0777U;
}

// Rights are checked meanwhile as those of somebody who isn't the superuser.
class AsNobody {
 public:
  AsNobody() : before_(::geteuid()) {
    constexpr uid_t nobody = 65534;
    if (before_ == 0) REQUIRE(::seteuid(nobody) == 0);
  }
  ~AsNobody() { REQUIRE(::seteuid(before_) == 0); }
  AsNobody(const AsNobody&) = delete;
  AsNobody& operator=(const AsNobody&) = delete;

 private:
  uid_t before_ = 0;
};

// Makes something that isn't a journal where the journal would be.
void makePipe(const fs::path& path) { REQUIRE(::mkfifo(path.c_str(), 0600) == 0); }
void makeSocket(const fs::path& path) {
  const int file = ::socket(AF_UNIX, SOCK_STREAM, 0);
  sockaddr_un address = {};
  address.sun_family = AF_UNIX;
  REQUIRE(path.string().size() < sizeof address.sun_path);
  std::strcpy(address.sun_path, path.c_str());
  REQUIRE(::bind(file, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0);
  ::close(file);
}

}  // namespace

TEST_CASE("what lies at the journal's name and isn't one is left, and work goes to the next name") {
  const HarmedPlace at;
  const fs::path other = at.folder.path() / "other";
  write(other, "somebody's");
  std::string content = "somebody's";
  SUBCASE("a link to a file") { fs::create_symlink(other, at.journal); }
  SUBCASE("a link to a journal") {
    write(other, content = journalOf(at.plan, at.folder.path(), "through a link"));
    fs::create_symlink(other, at.journal);
  }
  SUBCASE("a link that leads nowhere") { fs::create_symlink(at.folder.path() / "nowhere", at.journal); }
  SUBCASE("a folder") { fs::create_directory(at.journal); }
  SUBCASE("a pipe") { makePipe(at.journal); }
  SUBCASE("a socket") { makeSocket(at.journal); }
  SUBCASE("a file") { write(at.journal, "notes"); }
  SUBCASE("an empty file") { write(at.journal, ""); }
  SUBCASE("a journal with a damaged plan") {
    write(at.journal, headText({at.plan, at.folder.path()}) + recordText("no plan"));
  }
  SUBCASE("another name of a file") { fs::create_hard_link(other, at.journal); }
  const auto type = fs::symlink_status(at.journal).type();
  const std::string before = type == fs::file_type::regular ? textIn(at.journal) : "";
  CHECK(!workOn(at.plan, at.state));
  {
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    session.perform(editedTitle("1"));
    CHECK(session.state().at_risk.empty());
    CHECK(fs::exists(at.second));
  }
  CHECK(at.titleFound() == "1");
  Session session(at.options());
  session.perform(OpenPlan{at.plan});
  session.perform(TakeUpFoundWork{true});
  session.perform(Save{});
  CHECK(!session.state().changed());
  CHECK(!fs::exists(at.second));
  CHECK(fs::symlink_status(at.journal).type() == type);
  if (type == fs::file_type::regular) CHECK(textIn(at.journal) == before);
  CHECK(textIn(other) == content);
  CHECK(!fs::exists(at.folder.path() / "nowhere"));
}

TEST_CASE("a journal never names where a plan is saved") {
  const HarmedPlace at;
  const fs::path victim = at.folder.path() / "victim.toml";
  const std::string theirs = writePlan(titled("theirs").plan);
  write(victim, theirs);
  SUBCASE("one that lies beside another plan") {
    write(at.journal, journalOf(victim, at.folder.path(), "copied"));
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    REQUIRE(session.state().found);
    CHECK(session.state().found->path == at.plan);
    CHECK(session.state().found->remark ==
          "It was written for " + victim.string() + "; taken up, it becomes a change of wall.toml.");
    session.perform(TakeUpFoundWork{true});
    CHECK(session.state().path == at.plan);
    CHECK(session.state().plan().title == "copied");
    session.perform(Save{});
    CHECK(textIn(at.plan) == writePlan(titled("copied").plan));
  }
  SUBCASE("one of a plan that is nowhere saved") {
    fs::create_directories(at.state / "journals");
    write(at.state / "journals/.unsaved.journal", journalOf(victim, at.folder.path(), "foreign"));
    Session session(at.options());
    REQUIRE(session.state().found);
    session.perform(TakeUpFoundWork{true});
    CHECK(session.state().path.empty());
    CHECK(session.state().plan().title == "foreign");
    session.perform(Save{});
    CHECK(session.state().notice == "say where to save it");
  }
  CHECK(textIn(victim) == theirs);
}

TEST_CASE("paths in a journal that was copied with its plan's folder lead within the copy") {
  const HarmedPlace at;
  write(at.journal, journalOf("/elsewhere/wall.toml", "/elsewhere", "copied"));
  CHECK(workOn(at.plan, at.state)->plan->directory == at.folder.path());
  // Of a plan that was saved in another folder than it was read from they lead where they led.
  write(at.journal, journalOf(at.plan, "/elsewhere", "moved"));
  CHECK(workOn(at.plan, at.state)->plan->directory == "/elsewhere");
}

TEST_CASE(
    "work is offered though its plan is gone or broken, and is saved only where nothing is lost by it") {
  const HarmedPlace at;
  at.leaveWork("kept");
  std::string remark;
  bool broken = true;
  SUBCASE("gone") {
    fs::remove(at.plan);
    remark = "Its plan isn't there any more.";
    broken = false;
  }
  SUBCASE("broken") {
    write(at.plan, "# by hand\nformat = ");
    remark = "Its plan can't be read.";
  }
  SUBCASE("without a mesh that it names") {
    std::string text = writePlan(smallPlan()->plan);
    text.replace(text.find("shape = \"dahlia\""), 16, "mesh = \"none.obj\"");
    write(at.plan, text);
    remark = "Its plan can't be shown as it is saved.";
  }
  const std::string on_disk = textIn(at.plan);
  Session session(at.options());
  session.perform(OpenPlan{at.plan});
  CHECK(!session.state().hasPlan());
  CHECK(!session.state().problems.empty());
  REQUIRE(session.state().found);
  CHECK(session.state().found->remark == remark);
  session.perform(TakeUpFoundWork{true});
  REQUIRE(session.state().hasPlan());
  CHECK(session.state().plan().title == "kept");
  CHECK(session.state().path == at.plan);
  CHECK(session.state().changed());
  CHECK(!session.state().found);
  // There is nothing on disk that it could be taken back to.
  session.perform(Undo{});
  CHECK(session.state().changed());
  session.perform(Save{});
  if (broken) {
    CHECK(session.state().changed_on_disk);
    CHECK(textIn(at.plan) == on_disk);
    session.perform(SaveAs{at.plan, true});
  }
  CHECK(!session.state().changed());
  CHECK(textIn(at.plan) == writePlan(titled("kept").plan));
  CHECK(!workOn(at.plan, at.state));
}

TEST_CASE("a journal that other programs remove or change while it is written is begun anew") {
  const HarmedPlace at;
  std::string theirs;
  {
    Journal journal(at.plan, at.state);
    for (const char* words : {"1", "2"}) REQUIRE(!journal.write(titled(words), true));
    SUBCASE("removed") { fs::remove(at.journal); }
    SUBCASE("moved away") { fs::rename(at.journal, at.folder.path() / "kept elsewhere"); }
    SUBCASE("cut") { fs::resize_file(at.journal, 30); }
    SUBCASE("emptied") { fs::resize_file(at.journal, 0); }
    SUBCASE("longer") { std::ofstream(at.journal, std::ios::app) << "plan 99 zz\n"; }
    SUBCASE("written over") {
      const std::string text = textIn(at.journal);
      write(at.journal, std::string(text.size(), 'x'));
    }
    SUBCASE("another file in its place") {
      fs::remove(at.journal);
      write(at.journal, theirs = "theirs");
    }
    SUBCASE("a link in its place") {
      fs::rename(at.journal, at.folder.path() / "elsewhere");
      fs::create_symlink("elsewhere", at.journal);
    }
    CHECK(!journal.write(titled("3"), false));
    CHECK(!journal.write(titled("4"), true));
  }
  CHECK(at.titleFound() == "4");
  if (!theirs.empty()) CHECK(textIn(at.journal) == theirs);
}

TEST_CASE(
    "where the folder or the journal in it is closed, work goes where it can be written and is found there") {
  const HarmedPlace at;
  fs::create_directories(at.state);
  REQUIRE(::chmod(at.folder.path().c_str(), 0777) == 0);
  REQUIRE(::chmod(at.state.c_str(), 0777) == 0);
  std::size_t beside = 0;
  SUBCASE("a folder that takes no file") { REQUIRE(::chmod(at.folder.path().c_str(), 0555) == 0); }
  SUBCASE("a journal that may not be read") {
    write(at.journal, journalOf(at.plan, at.folder.path(), "closed"));
    REQUIRE(::chmod(at.journal.c_str(), 0) == 0);
    beside = 1;
  }
  const AsNobody nobody;
  {
    Session session(at.options());
    session.perform(OpenPlan{at.plan});
    CHECK(!session.state().found);
    session.perform(editedTitle("mine"));
    CHECK(session.state().at_risk.empty());
  }
  CHECK(fs::exists(at.second) == (beside == 1));
  CHECK(fs::exists(at.state / "journals") == (beside == 0));
  CHECK(at.titleFound() == "mine");
}

TEST_CASE("a journal that isn't this window's any more isn't removed by it") {
  const HarmedPlace at;
  Journal journal(at.plan, at.state);
  REQUIRE(!journal.write(titled("1"), true));
  fs::remove(at.journal);
  write(at.journal, "theirs");
  journal.discard();
  CHECK(textIn(at.journal) == "theirs");
}

TEST_CASE("work found that another window wrote anew meanwhile isn't thrown away with the old one") {
  const HarmedPlace at;
  at.leaveWork("old");
  const auto found = workOn(at.plan, at.state);
  REQUIRE(found);
  fs::remove(at.journal);
  at.leaveWork("new");
  throwAway(*found);
  CHECK(at.titleFound() == "new");
  throwAway(*workOn(at.plan, at.state));
  CHECK(!fs::exists(at.journal));
}

TEST_CASE("work that can't be taken up stays in its journal") {
  const HarmedPlace at;
  LoadedPlan plan = titled("with a mesh");
  plan.plan.blooms[1].form = MeshFile{"none.obj"};
  {
    Journal left(at.plan, at.state);
    REQUIRE(!left.write(plan, true));
  }
  Session session(at.options());
  session.perform(OpenPlan{at.plan});
  REQUIRE(session.state().found);
  session.perform(TakeUpFoundWork{true});
  CHECK(session.state().plan().title == "Small");
  CHECK(session.state().notice.find("none.obj") != std::string::npos);
  CHECK(fs::exists(at.journal));
}

TEST_CASE("of two windows on one plan each keeps its work, and the next offers what the dead one left") {
  const HarmedPlace at;
  Session living(at.options());
  living.perform(OpenPlan{at.plan});
  living.perform(editedTitle("living"));
  {
    Session other(at.options());
    other.perform(OpenPlan{at.plan});
    CHECK(!other.state().found);
    other.perform(editedTitle("dead"));
  }
  Session next(at.options());
  next.perform(OpenPlan{at.plan});
  REQUIRE(next.state().found);
  CHECK(next.state().found->plan->plan.title == "dead");
  next.perform(TakeUpFoundWork{false});
  CHECK(!fs::exists(at.second));
  CHECK(fs::exists(at.journal));
  living.perform(editedTitle("still"));
  CHECK(living.state().at_risk.empty());
}

TEST_CASE("nobody may read a journal or a kept copy who couldn't read the plan") {
  const HarmedPlace at;
  write(at.plan, "# a comment\n" + writePlan(smallPlan()->plan));
  unsigned mode = 0;
  unsigned of_copy = 0;
  SUBCASE("its owner only") { mode = of_copy = 0600; }
  SUBCASE("a group, which may be another one for the copy") {
    mode = 0640;
    of_copy = 0600;
  }
  SUBCASE("everybody") { mode = of_copy = 0644; }
  REQUIRE(::chmod(at.plan.c_str(), mode) == 0);
  const mode_t mask = ::umask(0);
  Session session(at.options());
  session.perform(OpenPlan{at.plan});
  session.perform(editedTitle("1"));
  CHECK(modeOf(at.journal) == 0600);
  session.perform(Save{});
  ::umask(mask);
  CHECK(modeOf(at.folder.path() / "wall.before.toml") == of_copy);
  CHECK(modeOf(at.plan) == mode);
}

TEST_CASE("a journal that grows long is as private when it was begun anew, and so is the state folder's") {
  const HarmedPlace at;
  const mode_t mask = ::umask(0);
  Journal journal({}, at.state);
  LoadedPlan plan = titled(std::string(900'000, 'x'));
  for (int k = 0; k < 12; ++k) REQUIRE(!journal.write(plan, false));
  ::umask(mask);
  CHECK(fs::file_size(at.state / "journals/.unsaved.journal") < 5'000'000);
  CHECK(modeOf(at.state / "journals/.unsaved.journal") == 0600);
  CHECK(modeOf(at.state / "journals") == 0700);
}

TEST_CASE("records behind a torn one are read") {
  const std::string head = headText({"/walls/wall.toml", "/walls"});
  const std::string torn = recordText("the second, which is torn somewhere");
  for (std::size_t length = 0; length < torn.size(); ++length) {
    CAPTURE(length);
    const std::string start = head + recordText("one") + torn.substr(0, length);
    CHECK(journalFrom(start + recordText("three"))->plan == "three");
    CHECK(journalFrom(start + recordText("three") + torn.substr(0, length))->plan == "three");
    CHECK(journalFrom(start)->plan == "one");
  }
  // A damaged head isn't worth the work behind it.
  std::string damaged = head + recordText("one");
  damaged[30] ^= 1;
  REQUIRE(journalFrom(damaged));
  CHECK(journalFrom(damaged)->plan == "one");
  CHECK(journalFrom(damaged)->head.path.empty());
}

TEST_CASE("numbers in a journal that are too large for the file, or for any, are those of a torn record") {
  const std::string head = headText({"/walls/wall.toml", "/walls"}) + recordText("one");
  for (const char* line :
       {"plan 18446744073709551615 0\n", "plan 18446744073709551616 0\n", "plan 99999999999999999999999 0\n",
        "plan -1 0\n", "plan 4 fffffffffffffffff\n", "plan 9223372036854775807 0\n", "plan  4 0\n", "plan 4",
        "plan 4 0", "plan \n", "plan 0 0\n"}) {
    CAPTURE(line);
    CHECK(journalFrom(head + line)->plan == "one");
    CHECK(journalFrom(head + line + recordText("three"))->plan == "three");
  }
}

TEST_CASE("a file made to keep the reader busy is given up on") {
  const std::string head = headText({"/walls/wall.toml", "/walls"}) + recordText("one");
  std::string busy = head;
  SUBCASE("false records of half the file each") {
    while (busy.size() < (std::size_t{8} << 20)) busy += "plan 4000000 0\n";
  }
  SUBCASE("lines without an end") {
    while (busy.size() < (std::size_t{8} << 20)) busy += "plan ";
  }
  SUBCASE("more records than anybody makes") {
    while (busy.size() < (std::size_t{8} << 20)) busy += recordText("");
  }
  const auto begin = std::chrono::steady_clock::now();
  CHECK(journalFrom(busy));
  // Sums over each false record would take an hour.
  CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(20));
}

TEST_CASE("a file of the journal's name that is larger than any journal isn't read") {
  const HarmedPlace at;
  write(at.journal, journalOf(at.plan, at.folder.path(), "1"));
  CHECK(at.titleFound() == "1");
  fs::resize_file(at.journal, std::uintmax_t{1} << 40);  // takes no room on the disk
  CHECK(!at.titleFound());
}
