#include "tests/window/dropping.h"

#include "tests/window/hand.h"

#include <X11/Xatom.h>
#include <X11/Xlib.h>

#include <array>
#include <memory>

namespace petalproof::window_test {
namespace {

struct DisplayEnd {
  void operator()(Display* display) const { XCloseDisplay(display); }
};

class Source {
 public:
  Source(Display* display, Window target, std::string offered)
      : display_(display), target_(target), offered_(std::move(offered)) {
    own_ = XCreateSimpleWindow(display, DefaultRootWindow(display), 0, 0, 1, 1, 0, 0, 0);
    XSetSelectionOwner(display, atom("XdndSelection"), own_, CurrentTime);
  }

  bool drop(int x, int y) {
    constexpr long version = 5;
    const long own = static_cast<long>(own_);
    const auto list = static_cast<long>(atom("text/uri-list"));
    send("XdndEnter", {own, version << 24, list, 0, 0});
    send("XdndPosition",
         {own, 0, static_cast<long>(x) << 16 | y, CurrentTime, static_cast<long>(atom("XdndActionCopy"))});
    if (!waitFor("XdndStatus")) return false;
    send("XdndDrop", {own, 0, CurrentTime, 0, 0});
    return waitFor("XdndFinished");
  }

 private:
  Atom atom(const char* name) const { return XInternAtom(display_, name, False); }

  void send(const char* message, const std::array<long, 5>& data) const {
    XEvent event{};
    event.xclient.type = ClientMessage;
    event.xclient.window = target_;
    event.xclient.message_type = atom(message);
    event.xclient.format = 32;
    for (std::size_t k = 0; k < data.size(); ++k) event.xclient.data.l[k] = data[k];
    XSendEvent(display_, target_, False, NoEventMask, &event);
    XFlush(display_);
  }

  // Gives the files' names to who asks for them.
  void answer(const XSelectionRequestEvent& asked) const {
    XChangeProperty(display_, asked.requestor, asked.property, asked.target, 8, PropModeReplace,
                    reinterpret_cast<const unsigned char*>(offered_.data()),  // NOLINT: X's way
                    static_cast<int>(offered_.size()));
    XEvent reply{};
    reply.xselection.type = SelectionNotify;
    reply.xselection.requestor = asked.requestor;
    reply.xselection.selection = asked.selection;
    reply.xselection.target = asked.target;
    reply.xselection.property = asked.property;
    reply.xselection.time = asked.time;
    XSendEvent(display_, asked.requestor, False, NoEventMask, &reply);
    XFlush(display_);
  }

  bool waitFor(const char* message) const {
    const Atom wanted = atom(message);
    return comesTrue(
        [&] {
          bool came = false;
          while (XPending(display_) > 0) {
            XEvent event{};
            XNextEvent(display_, &event);
            if (event.type == SelectionRequest) answer(event.xselectionrequest);
            came = came || (event.type == ClientMessage && event.xclient.message_type == wanted);
          }
          return came;
        },
        20);
  }

  Display* display_;
  Window target_;
  std::string offered_;
  Window own_ = 0;
};

// No window manager is there: the program's window is one of the root's own.
Window windowNamed(Display* display, const std::string& name) {
  Window root = 0;
  Window parent = 0;
  Window* children = nullptr;
  unsigned count = 0;
  if (XQueryTree(display, DefaultRootWindow(display), &root, &parent, &children, &count) == 0) return 0;
  Window found = 0;
  for (unsigned k = 0; k < count; ++k) {
    char* title = nullptr;
    if (XFetchName(display, children[k], &title) == 0 || title == nullptr) continue;
    if (name == title) found = children[k];
    XFree(title);
  }
  if (children != nullptr) XFree(children);
  return found;
}

}  // namespace

bool dropFiles(const std::string& display, const std::string& window_name,
               const std::vector<std::filesystem::path>& files, int x, int y) {
  const std::unique_ptr<Display, DisplayEnd> connection(XOpenDisplay(display.c_str()));
  if (!connection) return false;
  Window target = 0;
  if (!comesTrue([&] { return (target = windowNamed(connection.get(), window_name)) != 0; }, 20))
    return false;
  std::string offered;
  for (const std::filesystem::path& file : files) offered += "file://" + file.string() + "\r\n";
  return Source(connection.get(), target, offered).drop(x, y);
}

bool closeWindow(const std::string& display, const std::string& window_name) {
  const std::unique_ptr<Display, DisplayEnd> connection(XOpenDisplay(display.c_str()));
  if (!connection) return false;
  const Window target = windowNamed(connection.get(), window_name);
  if (target == 0) return false;
  XEvent event{};
  event.xclient.type = ClientMessage;
  event.xclient.window = target;
  event.xclient.message_type = XInternAtom(connection.get(), "WM_PROTOCOLS", False);
  event.xclient.format = 32;
  event.xclient.data.l[0] = static_cast<long>(XInternAtom(connection.get(), "WM_DELETE_WINDOW", False));
  event.xclient.data.l[1] = CurrentTime;
  XSendEvent(connection.get(), target, False, NoEventMask, &event);
  XFlush(connection.get());
  return true;
}

}  // namespace petalproof::window_test
