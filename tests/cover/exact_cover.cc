#include "tests/cover/exact_cover.h"

#include <glpk.h>

#include <algorithm>
#include <cstddef>
#include <memory>
#include <utility>

namespace petalproof {
namespace {

void addLimits(const cover::CoverProblem& problem, glp_prob& model);

using Model = std::unique_ptr<glp_prob, decltype(&glp_delete_prob)>;

Model modelOf(const cover::CoverProblem& problem) {
  Model model(glp_create_prob(), glp_delete_prob);
  glp_set_obj_dir(model.get(), GLP_MIN);
  glp_add_rows(model.get(), static_cast<int>(problem.elements));
  for (int row = 1; row <= static_cast<int>(problem.elements); ++row)
    glp_set_row_bnds(model.get(), row, GLP_LO, 1, 0);
  glp_add_cols(model.get(), static_cast<int>(problem.sets.size()));
  for (int column = 1; const cover::CoverSet& set : problem.sets) {
    glp_set_col_kind(model.get(), column, GLP_BV);
    glp_set_obj_coef(model.get(), column, set.weight);
    std::vector<int> rows = {0};
    for (const std::uint32_t element : set.covers) rows.push_back(static_cast<int>(element) + 1);
    const std::vector<double> ones(rows.size(), 1);
    glp_set_mat_col(model.get(), column, static_cast<int>(set.covers.size()), rows.data(), ones.data());
    ++column;
  }
  addLimits(problem, *model);
  return model;
}

// At most `most` of some amounts of columns.
void addRow(glp_prob& model, const std::vector<std::pair<std::uint32_t, double>>& amounts, double most) {
  std::vector<int> columns = {0};
  std::vector<double> values = {0};
  for (const auto& [column, amount] : amounts) {
    columns.push_back(static_cast<int>(column) + 1);
    values.push_back(amount);
  }
  const int row = glp_add_rows(&model, 1);
  glp_set_row_bnds(&model, row, GLP_UP, 0, most);
  glp_set_mat_row(&model, row, static_cast<int>(amounts.size()), columns.data(), values.data());
}

void addLimits(const cover::CoverProblem& problem, glp_prob& model) {
  std::vector<std::vector<std::pair<std::uint32_t, double>>> uses(problem.limits.size());
  for (std::uint32_t set = 0; set < problem.sets.size(); ++set)
    for (const auto& [resource, amount] : problem.sets[set].uses) uses[resource].emplace_back(set, amount);
  for (std::size_t k = 0; k < uses.size(); ++k)
    if (!uses[k].empty()) addRow(model, uses[k], problem.limits[k]);
}

// Sets no two of which can stand together, the first of them with as many of its neighbours as that holds
// for: at most one of them. True if the choice breaks any such rule; those are added.
bool addBrokenConflicts(const cover::CoverProblem& problem, const std::vector<std::uint32_t>& chosen,
                        glp_prob& model) {
  if (problem.conflicts.empty()) return false;
  const auto conflict = [&](std::uint32_t a, std::uint32_t b) {
    return std::binary_search(problem.conflicts[a].begin(), problem.conflicts[a].end(), b);
  };
  bool any = false;
  for (const std::uint32_t a : chosen)
    for (const std::uint32_t b : chosen) {
      if (a >= b || !conflict(a, b)) continue;
      std::vector<std::pair<std::uint32_t, double>> clique = {{a, 1}, {b, 1}};
      for (const std::uint32_t c : problem.conflicts[a])
        if (std::all_of(clique.begin() + 1, clique.end(),
                        [&](const auto& one) { return conflict(one.first, c); }))
          clique.emplace_back(c, 1);
      addRow(model, clique, 1);
      any = true;
    }
  return any;
}

}  // namespace

std::optional<ExactCover> exactCover(const cover::CoverProblem& problem, int seconds) {
  glp_term_out(GLP_OFF);
  const Model model = modelOf(problem);
  glp_iocp options;
  glp_init_iocp(&options);
  options.presolve = GLP_ON;
  options.mir_cuts = options.gmi_cuts = options.cov_cuts = options.clq_cuts = GLP_ON;
  options.tm_lim = 1000 * seconds;
  for (;;) {
    if (glp_intopt(model.get(), &options) != 0 || glp_mip_status(model.get()) != GLP_OPT) return std::nullopt;
    ExactCover cover{glp_mip_obj_val(model.get()), {}};
    for (int column = 1; column <= static_cast<int>(problem.sets.size()); ++column)
      if (glp_mip_col_val(model.get(), column) > 0.5)
        cover.chosen.push_back(static_cast<std::uint32_t>(column - 1));
    if (!addBrokenConflicts(problem, cover.chosen, *model)) return cover;
  }
}

std::optional<double> fractionalCover(const cover::CoverProblem& problem) {
  glp_term_out(GLP_OFF);
  const Model model = modelOf(problem);
  if (glp_simplex(model.get(), nullptr) != 0 || glp_get_status(model.get()) != GLP_OPT) return std::nullopt;
  return glp_get_obj_val(model.get());
}

}  // namespace petalproof
