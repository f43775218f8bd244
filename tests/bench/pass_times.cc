#include "tests/bench/pass_times.h"

#include "tests/bench/pairs.h"

namespace petalproof::bench {

PassTimes::PassTimes() : counters_{GL_TIME_ELAPSED, GL_SAMPLES_PASSED} {
  if (!epoxy_has_gl_extension("GL_ARB_pipeline_statistics_query")) return;
  counters_.push_back(GL_FRAGMENT_SHADER_INVOCATIONS_ARB);
  counters_.push_back(GL_VERTEX_SHADER_INVOCATIONS_ARB);
}

PassTimes::~PassTimes() {
  for (const Pass& pass : passes_)
    glDeleteQueries(static_cast<GLsizei>(pass.queries.size()), pass.queries.data());
}

void PassTimes::endPass() {
  if (!open_) return;
  for (const GLenum counter : counters_) glEndQuery(counter);
  open_ = false;
}

void PassTimes::next(const char* pass) {
  endPass();
  if (*pass == '\0') return;
  if (next_ == passes_.size()) {
    passes_.push_back({pass, std::vector<GLuint>(counters_.size()), {}, {}});
    glGenQueries(static_cast<GLsizei>(counters_.size()), passes_.back().queries.data());
  }
  const Pass& begun = passes_[next_++];
  for (std::size_t k = 0; k < counters_.size(); ++k) glBeginQuery(counters_[k], begun.queries[k]);
  open_ = true;
}

void PassTimes::endPicture() {
  endPass();
  for (std::size_t k = 0; k < next_; ++k) {
    Pass& pass = passes_[k];
    std::vector<GLuint64> counted(4, 0);
    for (std::size_t j = 0; j < pass.queries.size(); ++j)
      glGetQueryObjectui64v(pass.queries[j], GL_QUERY_RESULT, &counted[j]);
    constexpr double ns_per_ms = 1e6;
    pass.ms.push_back(static_cast<double>(counted[0]) / ns_per_ms);
    pass.last = {pass.name, 0, counted[1], counted[2], counted[3]};
  }
  next_ = 0;
}

std::vector<PassFacts> PassTimes::facts() const {
  std::vector<PassFacts> all;
  for (const Pass& pass : passes_) {
    all.push_back(pass.last);
    all.back().ms = median(pass.ms);
  }
  return all;
}

}  // namespace petalproof::bench
