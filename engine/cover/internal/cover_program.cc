#include "engine/cover/internal/cover_program.h"

#include "engine/base/stopping.h"

#include <coin/ClpEventHandler.hpp>
#include <coin/ClpSimplex.hpp>

#include <algorithm>
#include <utility>

namespace petalproof::cover {
namespace {

// Ends CLP's work where a stop was asked for: by a value, because CLP lets no exception through. Asks between
// two factorizations of the basis, which are some hundred steps apart.
class EndOfWork : public ClpEventHandler {
 public:
  explicit EndOfWork(std::stop_token stop) : stop_(std::move(stop)) {}
  int event(Event what) override {
    return what == endOfFactorization && stop_.stop_requested() ? end_work : go_on;
  }
  ClpEventHandler* clone() const override { return new EndOfWork(*this); }

 private:
  static constexpr int go_on = -1;
  static constexpr int end_work = 5;
  std::stop_token stop_;
};

}  // namespace

struct CoverProgram::Solver {
  std::stop_token stop;
  ClpSimplex clp;
  bool begun = false;
};

CoverProgram::CoverProgram(const std::vector<char>& must_cover, const std::stop_token& stop)
    : solver_(std::make_unique<Solver>()) {
  solver_->stop = stop;
  ClpSimplex& clp = solver_->clp;
  clp.setLogLevel(0);
  const EndOfWork end_of_work(stop);
  clp.passInEventHandler(&end_of_work);  // which it clones
  const std::vector<double> least(must_cover.begin(), must_cover.end());
  const std::vector<double> most(must_cover.size(), COIN_DBL_MAX);
  const CoinBigIndex* no_columns = nullptr;
  clp.addRows(static_cast<int>(must_cover.size()), least.data(), most.data(), no_columns, nullptr, nullptr);
}

CoverProgram::~CoverProgram() = default;

void CoverProgram::add(const std::vector<const std::vector<std::uint32_t>*>& groups) {
  std::vector<CoinBigIndex> begins = {0};
  std::vector<int> items;
  for (const std::vector<std::uint32_t>* group : groups) {
    for (const std::uint32_t item : *group) items.push_back(static_cast<int>(item));
    begins.push_back(static_cast<CoinBigIndex>(items.size()));
  }
  const std::vector<double> ones(std::max(items.size(), groups.size()), 1);
  const std::vector<double> zeros(groups.size(), 0);
  const std::vector<double> most(groups.size(), COIN_DBL_MAX);
  solver_->clp.addColumns(static_cast<int>(groups.size()), zeros.data(), most.data(), ones.data(),
                          begins.data(), items.data(), ones.data());
}

// At first no group is used, which costs nothing and covers nothing: the dual method starts from that. Later
// the last cover still covers, and columns that came in would make it lighter: the primal method.
bool CoverProgram::solve() {
  ClpSimplex& clp = solver_->clp;
  if (solver_->begun)
    clp.primal(1);
  else
    clp.dual();
  solver_->begun = true;
  throwIfStopAsked(solver_->stop);
  return clp.isProvenOptimal();
}

std::vector<double> CoverProgram::weights() const {
  const ClpSimplex& clp = solver_->clp;
  const double* duals = clp.dualRowSolution();
  std::vector<double> weights(duals, duals + clp.numberRows());
  for (double& weight : weights) weight = std::max(0.0, weight);
  return weights;
}

}  // namespace petalproof::cover
