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

// A file descriptor, closed at the end of its life.
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
    // Watches the folder, not the file: programs that save safely replace the file by a new file.
    constexpr std::uint32_t events_wanted = IN_CLOSE_WRITE | IN_MOVED_TO | IN_MOVED_FROM | IN_DELETE;
    const std::filesystem::path folder = file.has_parent_path() ? file.parent_path() : ".";
    if (events.number < 0 || ending.number < 0) return;
    if (::inotify_add_watch(events.number, folder.c_str(), events_wanted) < 0) return;
    watcher = std::thread([this] { watch(); });
  }
  ~Parts() {
    if (!watcher.joinable()) return;
    const std::uint64_t signal = 1;
    while (::write(ending.number, &signal, sizeof signal) < 0 && errno == EINTR) continue;
    watcher.join();
  }

  // Reads all waiting events; true where any of them is about the file.
  bool isAboutFile() const {
    // Room for many events; the longest has a name of 255 bytes.
    alignas(inotify_event) std::array<char, 4096> bytes{};
    bool is_about_file = false;
    for (;;) {
      const auto count = ::read(events.number, bytes.data(), bytes.size());
      if (count <= 0) return is_about_file;
      for (std::size_t at = 0; at < static_cast<std::size_t>(count);) {
        inotify_event event{};
        std::memcpy(&event, bytes.data() + at, sizeof event);
        is_about_file = is_about_file || (event.len > 0 && name == bytes.data() + at + sizeof event);
        at += sizeof event + event.len;
      }
    }
  }

  void watch() {
    std::array<pollfd, 2> sources{{{events.number, POLLIN, 0}, {ending.number, POLLIN, 0}}};
    while (true) {
      if (::poll(sources.data(), sources.size(), -1) < 0) {
        if (errno == EINTR) continue;
        return;
      }
      if (sources[1].revents != 0) return;
      if (!isAboutFile()) continue;
      changed = true;
      if (wake) wake();
    }
  }

  std::string name;
  std::function<void()> wake;
  Descriptor events;
  Descriptor ending;
  std::atomic<bool> changed = false;
  std::thread watcher;
};

FileWatch::FileWatch(const std::filesystem::path& file, std::function<void()> wake)
    : parts_(std::make_unique<Parts>(file, std::move(wake))) {}
FileWatch::~FileWatch() = default;

bool FileWatch::takeChange() { return parts_->changed.exchange(false); }

}  // namespace petalproof::app
