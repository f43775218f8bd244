#pragma once
// What the passes of a picture take, by OpenGL's own clock, and what goes through them.

#include "viewer/gl/handle.h"

#include <cstdint>
#include <string>
#include <vector>

namespace petalproof::bench {

struct PassFacts {
  std::string name;
  double ms = 0;                // median
  std::uint64_t samples = 0;    // that passed the depth test
  std::uint64_t fragments = 0;  // shaded; 0 where OpenGL doesn't count them, as for vertices
  std::uint64_t vertices = 0;
};

class PassTimes {
 public:
  PassTimes();
  ~PassTimes();
  PassTimes(const PassTimes&) = delete;
  PassTimes& operator=(const PassTimes&) = delete;

  // The pass before ends here; "" begins none. A pass that comes twice in a picture is two.
  void next(const char* pass);
  // Takes in what the card has counted of one whole picture; waits for it.
  void endPicture();
  // In the order in which the first picture had them.
  std::vector<PassFacts> facts() const;

 private:
  struct Pass {
    std::string name;
    std::vector<GLuint> queries;
    std::vector<double> ms;
    PassFacts last;
  };
  void endPass();

  std::vector<GLenum> counters_;
  std::vector<Pass> passes_;
  std::size_t next_ = 0;  // of this picture
  bool open_ = false;
};

}  // namespace petalproof::bench
