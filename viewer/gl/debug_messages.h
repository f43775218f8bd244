#pragma once
#include <memory>
#include <string>
#include <vector>

namespace petalproof::gl {

// Listens to what the current context complains about, from making to end: errors and what isn't defined.
class DebugMessages {
 public:
  DebugMessages();
  ~DebugMessages();
  DebugMessages(const DebugMessages&) = delete;
  DebugMessages& operator=(const DebugMessages&) = delete;

  // False where the driver can't tell: then only glGetError's one word is known.
  bool listening() const { return listening_; }
  // Everything said so far, and what glGetError says now.
  std::vector<std::string> all() const;

 private:
  bool listening_ = false;
  std::unique_ptr<std::vector<std::string>> said_;  // at one place as long as OpenGL knows it
};

}  // namespace petalproof::gl
