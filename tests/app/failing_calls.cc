#include "tests/app/failing_calls.h"

#include <fcntl.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cerrno>
#include <cstdarg>
#include <cstddef>

namespace petalproof::app {
namespace {

// Of the calling thread: a system call takes no argument for it.
struct FailurePlan {
  bool counts = false;
  int which = FailingCalls::none;
  Failure how = Failure::once;
  int calls = 0;
};
thread_local FailurePlan plan;

bool fails() {
  if (!plan.counts) return false;
  ++plan.calls;
  if (plan.which == FailingCalls::none) return false;
  return plan.how == Failure::once ? plan.calls == plan.which : plan.calls >= plan.which;
}

int failed() {
  errno = ENOSPC;
  return -1;
}

}  // namespace

FailingCalls::FailingCalls(int which, Failure how) { plan = {true, which, how, 0}; }
FailingCalls::~FailingCalls() { plan = {}; }
int FailingCalls::calls() const { return plan.calls; }

}  // namespace petalproof::app

using petalproof::app::failed;
using petalproof::app::fails;

extern "C" {

int open(const char* path, int flags, ...) {
  va_list rest;
  va_start(rest, flags);
  const int mode = (flags & O_CREAT) != 0 ? va_arg(rest, int) : 0;
  va_end(rest);
  return fails() ? failed() : static_cast<int>(::syscall(SYS_openat, AT_FDCWD, path, flags, mode));
}

ssize_t write(int file, const void* bytes, std::size_t count) {
  if (!fails()) return ::syscall(SYS_write, file, bytes, count);
  ::syscall(SYS_write, file, bytes, count / 2);
  return failed();
}

ssize_t pwrite(int file, const void* bytes, std::size_t count, off_t at) {
  if (!fails()) return ::syscall(SYS_pwrite64, file, bytes, count, at);
  ::syscall(SYS_pwrite64, file, bytes, count / 2, at);
  return failed();
}

int fsync(int file) { return fails() ? failed() : static_cast<int>(::syscall(SYS_fsync, file)); }

int fdatasync(int file) { return fails() ? failed() : static_cast<int>(::syscall(SYS_fdatasync, file)); }

int ftruncate(int file, off_t size) noexcept {
  return fails() ? failed() : static_cast<int>(::syscall(SYS_ftruncate, file, size));
}

int rename(const char* from, const char* to) noexcept {
  return fails() ? failed() : static_cast<int>(::syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0U));
}

int renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned int flags) noexcept {
  return fails() ? failed()
                 : static_cast<int>(::syscall(SYS_renameat2, from_folder, from, to_folder, to, flags));
}
}
