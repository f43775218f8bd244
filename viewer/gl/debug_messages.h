#pragma once
// Collects OpenGL's complaints for tests, which fail on any of them.

#include <memory>
#include <string>
#include <vector>

namespace petalproof::gl {

// Listens to the current context during its life: errors and undefined behaviour.
class DebugMessages {
 public:
  DebugMessages();
  ~DebugMessages();
  DebugMessages(const DebugMessages&) = delete;
  DebugMessages& operator=(const DebugMessages&) = delete;

  // False where the driver has no debug messages: then only glGetError() tells of errors.
  bool listening() const { return listening_; }
  // The messages so far, and the errors that glGetError() reports now.
  std::vector<std::string> all() const;

 private:
  bool listening_ = false;
  std::unique_ptr<std::vector<std::string>> said_;  // at a fixed address, which OpenGL holds
};

}  // namespace petalproof::gl
