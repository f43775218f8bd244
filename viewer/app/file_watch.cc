#include "viewer/app/file_watch.h"

#include <poll.h>
#include <sys/eventfd.h>
#include <sys/inotify.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string>
#include <thread>
#include <utility>

namespace petalproof::app {
namespace {

// Closed at the end of its life.
struct Descriptor {
  explicit Descriptor(int opened) : number(opened) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number >= 0) ::close(number);
  }
  int number = -1;
};

}  // namespace

struct FileWatch::Parts {
  Parts(const std::filesystem::path& file, std::function<void()> given)
      : name(file.filename().string()),
        wake(std::move(given)),
        events(::inotify_init1(IN_CLOEXEC | IN_NONBLOCK)),
        ending(::eventfd(0, EFD_CLOEXEC)) {
    // The folder, not the file: programs that save safely put another file in its place.
    constexpr std::uint32_t what = IN_CLOSE_WRITE | IN_MOVED_TO | IN_MOVED_FROM | IN_DELETE;
    const std::filesystem::path folder = file.has_parent_path() ? file.parent_path() : ".";
    if (events.number < 0 || ending.number < 0) return;
    if (::inotify_add_watch(events.number, folder.c_str(), what) < 0) return;
    watcher = std::thread([this] { watch(); });
  }
  ~Parts() {
    if (!watcher.joinable()) return;
    const std::uint64_t one = 1;
    while (::write(ending.number, &one, sizeof one) < 0 && errno == EINTR) continue;
    watcher.join();
  }

  // True where one of the events that are there is about the file.
  bool isAboutFile() const {
    alignas(inotify_event) std::array<char, 4096> bytes{};
    bool about = false;
    for (;;) {
      const auto count = ::read(events.number, bytes.data(), bytes.size());
      if (count <= 0) return about;
      for (std::size_t at = 0; at < static_cast<std::size_t>(count);) {
        inotify_event event{};
        std::memcpy(&event, bytes.data() + at, sizeof event);
        about = about || (event.len > 0 && name == bytes.data() + at + sizeof event);
        at += sizeof event + event.len;
      }
    }
  }

  void watch() {
    std::array<pollfd, 2> both{{{events.number, POLLIN, 0}, {ending.number, POLLIN, 0}}};
    while (true) {
      if (::poll(both.data(), both.size(), -1) < 0) {
        if (errno == EINTR) continue;
        return;
      }
      if (both[1].revents != 0) return;
      if (!isAboutFile()) continue;
      stirred = true;
      if (wake) wake();
    }
  }

  std::string name;
  std::function<void()> wake;
  Descriptor events;
  Descriptor ending;
  std::atomic<bool> stirred = false;
  std::thread watcher;
};

FileWatch::FileWatch(const std::filesystem::path& file, std::function<void()> wake)
    : parts_(std::make_unique<Parts>(file, std::move(wake))) {}
FileWatch::~FileWatch() = default;

bool FileWatch::takeStir() { return parts_->stirred.exchange(false); }

}  // namespace petalproof::app
