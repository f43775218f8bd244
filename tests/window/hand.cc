#include "tests/window/hand.h"

#include <doctest/doctest.h>

#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <ctime>
#include <fstream>
#include <iterator>

namespace petalproof::window_test {
namespace fs = std::filesystem;
namespace {

std::string contentOf(const fs::path& file) {
  std::ifstream in(file);
  std::string word;
  in >> word;
  return word;
}

void pause(int ms) { std::this_thread::sleep_for(std::chrono::milliseconds(ms)); }

}  // namespace

Process::Process(const std::vector<std::string>& words, const std::vector<std::string>& environment,
                 const fs::path& log) {
  std::vector<char*> arguments;
  for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  id_ = fork();
  if (id_ != 0) return;
  for (const std::string& one : environment) ::putenv(const_cast<char*>(one.c_str()));
  const int file = ::open(log.c_str(), O_CREAT | O_WRONLY | O_APPEND, 0600);
  ::dup2(file, STDOUT_FILENO);
  ::dup2(file, STDERR_FILENO);
  ::execvp(arguments[0], arguments.data());
  ::_exit(127);
}

bool Process::runs() {
  if (id_ <= 0) return false;
  if (::waitpid(id_, nullptr, WNOHANG) == 0) return true;
  id_ = -1;
  return false;
}

void Process::kill() {
  if (!runs()) return;
  ::kill(id_, SIGKILL);
  ::waitpid(id_, nullptr, 0);
  id_ = -1;
}

double Process::cpuSeconds() const {
  clockid_t clock{};
  timespec used{};
  if (id_ <= 0 || ::clock_getcpuclockid(id_, &clock) != 0 || ::clock_gettime(clock, &used) != 0) return 0;
  return static_cast<double>(used.tv_sec) + 1e-9 * static_cast<double>(used.tv_nsec);
}

Screen::Screen(int width, int height, const fs::path& folder) : folder_(folder) {
  const fs::path number = folder / "display";
  const std::string size = std::to_string(width) + "x" + std::to_string(height) + "x24";
  // Xvfb picks a free number and writes it to descriptor 3.
  server_ = std::make_unique<Process>(
      std::vector<std::string>{"sh", "-c",
                               "exec Xvfb -displayfd 3 -screen 0 " + size + " -nolisten tcp -fbdir '" +
                                   folder.string() + "' 3>'" + number.string() + "'"},
      std::vector<std::string>{}, folder / "xvfb.log");
  REQUIRE_MESSAGE(comesTrue([&] { return !contentOf(number).empty(); }, 20),
                  "Xvfb doesn't start; it comes with the package xvfb");
  display_ = contentOf(number);
}

void Screen::act(std::vector<std::string> words) const {
  words.insert(words.begin(), "xdotool");
  Process hand(words, {environment()}, folder_ / "xdotool.log");
  REQUIRE(comesTrue([&] { return !hand.runs(); }, 20));
}

// Between moving and pressing the window has to have seen the mouse where it is.
void Screen::move(int x, int y) const {
  act({"mousemove", std::to_string(x), std::to_string(y)});
  pause(250);
}

void Screen::click(int x, int y) const {
  move(x, y);
  act({"mousedown", "1"});
  pause(200);
  act({"mouseup", "1"});
  pause(250);
}

void Screen::drag(int x, int y, int to_x, int to_y) const {
  move(x, y);
  act({"mousedown", "1"});
  pause(900);  // it is taken hold of where the mouse is when a picture, perhaps a slow one, sees the button
  constexpr int steps = 6;
  for (int k = 1; k <= steps; ++k) {
    act({"mousemove", std::to_string(x + (to_x - x) * k / steps),
         std::to_string(y + (to_y - y) * k / steps)});
    pause(80);
  }
  pause(250);
  act({"mouseup", "1"});
  pause(250);
}

// Held for a moment: a key that goes down and up between two pictures of a slow screen isn't seen.
void Screen::key(const std::string& keys) const {
  act({"keydown", keys});
  pause(300);
  act({"keyup", keys});
  pause(250);
}

void Screen::type(const std::string& text) const {
  act({"type", "--delay", "60", text});
  pause(250);
}

// Xvfb keeps the screen in a file: X's own dump, a header of numbers with the highest byte first, then rows
// of blue, green, red and a byte of nothing.
Image Screen::picture() const {
  std::ifstream in(folder_ / "Xvfb_screen0", std::ios::binary);
  const std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  const auto byte = [&](std::size_t at) { return static_cast<std::uint8_t>(bytes[at]); };
  const auto number = [&](std::size_t k) {
    std::size_t value = 0;
    for (std::size_t j = 0; j < 4; ++j) value = value << 8U | byte(4 * k + j);
    return value;
  };
  REQUIRE(bytes.size() > 100);
  const std::size_t width = number(4);
  const std::size_t height = number(5);
  const std::size_t row = number(12);
  const std::size_t start = number(0) + 12 * number(19);
  REQUIRE(number(11) == 32);
  REQUIRE(bytes.size() >= start + row * height);
  Image image{static_cast<int>(width), static_cast<int>(height), {}};
  image.rgb.reserve(3 * width * height);
  for (std::size_t y = 0; y < height; ++y)
    for (std::size_t x = 0; x < width; ++x)
      for (const std::size_t channel : {2U, 1U, 0U})
        image.rgb.push_back(byte(start + y * row + 4 * x + channel));
  return image;
}

}  // namespace petalproof::window_test
