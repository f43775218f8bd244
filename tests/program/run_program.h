#pragma once
// Runs the built program as a user would.

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace petalproof::program {

struct Outcome {
  int status = -1;  // exit status; -1 where the program didn't end by itself
  int signal = 0;   // that ended it; 0: none did
  std::string out;
  std::string err;
  std::int64_t most_bytes = 0;  // of memory, at any moment
  double seconds = 0;           // of processor time, in all
};

// Arguments are passed as they are, no shell in between; the working folder is `folder`. `prepare` is called
// in the new process before it becomes the program.
Outcome run(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
            const std::function<void()>& prepare = {});

// The same, with a signal (Ctrl+C is SIGINT) once it has used so much processor time. Status -2 where it
// ended before.
struct Interruption : Outcome {
  double seconds_to_end = 0;  // from the signal to the end, by the clock
};
Interruption runAndInterrupt(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
                             double after_seconds, int signal);

// A new empty folder that goes when the value does.
class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const std::filesystem::path& path() const { return path_; }
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }

 private:
  std::filesystem::path path_;
};

std::string textOf(const std::filesystem::path& file);
void write(const std::filesystem::path& file, const std::string& text);
std::filesystem::path demoPlan();
std::filesystem::path tinyPlan();

}  // namespace petalproof::program
