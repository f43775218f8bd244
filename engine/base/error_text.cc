#include "engine/base/error_text.h"

#include <cerrno>
#include <system_error>

namespace petalproof {

std::string errorText(int error) {
  switch (error) {
    case ENOENT: return "there is no such file or folder";
    case EACCES:
    case EPERM: return "permission denied";
    case EISDIR: return "it is a folder, not a file";
    case ENOTDIR: return "a part of its path is a file, not a folder";
    case ENOSPC:
    case EDQUOT: return "the disk is full";
    case EROFS: return "the disk is write-protected";
    case EEXIST: return "it exists already";
    case ENAMETOOLONG: return "its name is too long";
    case EFBIG: return "the file would be larger than is allowed here";
    case ELOOP: return "its path is a circle of links";
    case EPIPE: return "nobody reads it any longer";
    case EBADF: return "it is closed";
    default: return std::generic_category().message(error);
  }
}

}  // namespace petalproof
