// Runs a fuzz target without a fuzzer: over seed files as they are, then over damaged copies of them, the
// same ones each time. Where clang's fuzzer is linked, this isn't.
//   SECONDS FOLDER...   for so long; the number of an input that crashes is told
//   =NUMBER FOLDER...   that input alone, which is written to the standard output before

#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <string_view>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

namespace fs = std::filesystem;
using Bytes = std::string;

constexpr std::uintmax_t largest_seed = 1 << 16;

std::vector<Bytes> seedsIn(int folders, char** names) {
  std::vector<fs::path> files;
  for (int k = 0; k < folders; ++k)
    for (const auto& entry : fs::recursive_directory_iterator(names[k]))
      if (entry.is_regular_file() && entry.file_size() <= largest_seed) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  std::vector<Bytes> seeds{Bytes()};
  for (const fs::path& file : files) {
    std::ifstream in(file, std::ios::binary);
    seeds.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  }
  return seeds;
}

class Damage {
 public:
  explicit Damage(std::uint64_t seed) : random_(seed) {}

  Bytes damaged(const std::vector<Bytes>& seeds) {
    Bytes bytes = seeds[below(seeds.size())];
    for (std::size_t k = 1 + below(6); k > 0; --k) damage(bytes, seeds[below(seeds.size())]);
    return bytes;
  }

 private:
  std::size_t below(std::size_t n) { return n == 0 ? 0 : static_cast<std::size_t>(random_() % n); }

  void damage(Bytes& bytes, const Bytes& other) {
    const std::size_t at = below(bytes.size() + 1);
    switch (below(6)) {
      case 0: bytes.insert(at, 1, static_cast<char>(random_())); break;
      case 1: bytes.erase(at, below(30)); break;
      case 2: bytes.insert(at, other.substr(below(other.size() + 1), below(60))); break;
      case 3: bytes.insert(at, bytes.substr(below(bytes.size() + 1), below(200))); break;
      case 4: bytes.insert(at, std::to_string(static_cast<std::int64_t>(random_()) >> below(64))); break;
      default:
        if (at < bytes.size()) bytes[at] = static_cast<char>(random_());
    }
  }

  std::mt19937_64 random_;
};

// A signal's handler is given nothing: the input that is run has to be where it can reach it.
std::atomic<std::uint64_t> running = 0;
static_assert(std::atomic<std::uint64_t>::is_always_lock_free);

extern "C" void tellInput(int signal) {
  std::array<char, 24> digits{};
  std::size_t from = digits.size();
  digits[--from] = '\n';
  std::uint64_t left = running;
  do {
    digits[--from] = static_cast<char>('0' + left % 10);
    left /= 10;
  } while (left > 0);
  constexpr std::string_view what = "input ";
  std::signal(signal, SIG_DFL);
  if (::write(STDERR_FILENO, what.data(), what.size()) < 0 ||
      ::write(STDERR_FILENO, digits.data() + from, digits.size() - from) < 0)
    return;
  std::raise(signal);
}

void run(const Bytes& bytes) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(std::atoi(argv[1]));
  const std::vector<Bytes> seeds = seedsIn(argc - 2, argv + 2);
  if (argv[1][0] == '=') {
    const Bytes bytes = Damage(std::strtoull(argv[1] + 1, nullptr, 10)).damaged(seeds);
    std::fwrite(bytes.data(), 1, bytes.size(), stdout);
    std::fflush(stdout);
    run(bytes);
    return 0;
  }
  for (const int signal : {SIGABRT, SIGSEGV, SIGFPE, SIGILL}) std::signal(signal, tellInput);
  for (const Bytes& seed : seeds) run(seed);
  for (; std::chrono::steady_clock::now() < end; ++running) run(Damage(running).damaged(seeds));
  std::fprintf(stderr, "%llu inputs\n", static_cast<unsigned long long>(running.load()));
  return 0;
}
