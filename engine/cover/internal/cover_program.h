#pragma once
// The fractional cover of items by groups as a linear program, solved by CLP's simplex method. The only place
// that knows CLP; prints nothing.

#include <cstdint>
#include <memory>
#include <stop_token>
#include <vector>

namespace petalproof::cover {

// Groups come in as columns while it is being solved; those left out may turn out too heavy.
class CoverProgram {
 public:
  // `must_cover`: which items any group holds.
  CoverProgram(const std::vector<char>& must_cover, const std::stop_token& stop);
  ~CoverProgram();
  CoverProgram(const CoverProgram&) = delete;

  void add(const std::vector<const std::vector<std::uint32_t>*>& groups);
  // Goes on from the last solution. False where CLP gave up.
  bool solve();
  // The items' dual values, to CLP's tolerances: the heaviest weights with which no group added is above 1.
  std::vector<double> weights() const;

 private:
  struct Solver;
  std::unique_ptr<Solver> solver_;
};

}  // namespace petalproof::cover
