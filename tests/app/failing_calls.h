#pragma once
// System calls that change files and fail when a test wants them to. The test program's own open(), write()
// and so on take the place of the C library's, so that what is tested is the program as it is.

namespace petalproof::app {

enum class Failure {
  once,    // that call only
  onwards  // that call and all after it: the disk is full, or gone
};

// Counts the calls of this thread that open, write, sync, cut or rename a file, and fails the one numbered
// `which` (from 1). A write that fails writes the half before: what a full disk does.
class FailingCalls {
 public:
  FailingCalls(int which, Failure how);
  ~FailingCalls();
  FailingCalls(const FailingCalls&) = delete;
  FailingCalls& operator=(const FailingCalls&) = delete;

  int calls() const;

  // Only counts.
  static constexpr int none = 0;
};

}  // namespace petalproof::app
