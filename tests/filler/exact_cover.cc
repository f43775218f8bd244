#include "tests/filler/exact_cover.h"

#include <glpk.h>

#include <memory>

namespace petalproof {
namespace {

using Model = std::unique_ptr<glp_prob, decltype(&glp_delete_prob)>;

Model modelOf(const CoverProblem& problem) {
  Model model(glp_create_prob(), glp_delete_prob);
  glp_set_obj_dir(model.get(), GLP_MIN);
  glp_add_rows(model.get(), static_cast<int>(problem.elements));
  for (int row = 1; row <= static_cast<int>(problem.elements); ++row)
    glp_set_row_bnds(model.get(), row, GLP_LO, 1, 0);
  glp_add_cols(model.get(), static_cast<int>(problem.sets.size()));
  for (int column = 1; const CoverSet& set : problem.sets) {
    glp_set_col_kind(model.get(), column, GLP_BV);
    glp_set_obj_coef(model.get(), column, set.weight);
    std::vector<int> rows = {0};
    for (const std::uint32_t element : set.covers) rows.push_back(static_cast<int>(element) + 1);
    const std::vector<double> ones(rows.size(), 1);
    glp_set_mat_col(model.get(), column, static_cast<int>(set.covers.size()), rows.data(), ones.data());
    ++column;
  }
  return model;
}

}  // namespace

std::optional<ExactCover> exactCover(const CoverProblem& problem, int seconds) {
  glp_term_out(GLP_OFF);
  const Model model = modelOf(problem);
  glp_iocp options;
  glp_init_iocp(&options);
  options.presolve = GLP_ON;
  options.mir_cuts = options.gmi_cuts = options.cov_cuts = options.clq_cuts = GLP_ON;
  options.tm_lim = 1000 * seconds;
  if (glp_intopt(model.get(), &options) != 0 || glp_mip_status(model.get()) != GLP_OPT) return std::nullopt;
  ExactCover cover{glp_mip_obj_val(model.get()), {}};
  for (int column = 1; column <= static_cast<int>(problem.sets.size()); ++column)
    if (glp_mip_col_val(model.get(), column) > 0.5)
      cover.chosen.push_back(static_cast<std::uint32_t>(column - 1));
  return cover;
}

}  // namespace petalproof
