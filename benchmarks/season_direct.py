"""The season with its whole numbers written down plainly and handed to the solver as it is.

Nothing of the search is used: a ``y`` for every hay, group and period, a ``z`` where it begins,
and the rules as loops. It is what the search is measured against.
"""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np

from rickyard.program.model.rows import Model
from rickyard.program.problem.use_rules import NO_LIMIT, UseRules
from rickyard.program.solver.points import SparseRows

#: Far more than any animal eats, kg DM per head and day; tight enough for the solver.
MOST_KG = 45.0

#: Dollars in the solver's unit, as in the product.
UNIT = 100.0


@dataclass(frozen=True)
class Direct:
    """Cost and proven bound in dollars, and the amounts; infinite where nothing was found."""

    cost: float
    bound: float
    x: np.ndarray | None


def solve_directly(
    model: Model, rows: SparseRows, rules: UseRules, seconds: float, threads: int = 1
) -> Direct:
    """Solve a season with whole numbers in one piece."""
    highspy.Highs.resetGlobalScheduler(True)
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.silent()
    solver.setOptionValue("time_limit", seconds)
    solver.setOptionValue("mip_rel_gap", 1e-6)
    solver.setOptionValue("random_seed", 1)
    solver.setOptionValue("threads", threads)
    infinity = highspy.kHighsInf
    for cost, lower, upper in zip(model.cost, model.lower, model.upper, strict=True):
        solver.addCol(cost / UNIT, lower, min(upper, infinity), 0, [], [])
    _add_rows(solver, rows)
    use = _add_uses(solver, model, rules)
    _add_rules(solver, model, rules, use)
    loads = model.columns.loads
    for column in loads[loads >= 0].tolist():
        solver.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    solver.run()
    # Its threads are one for the process: left as they are, a later solve with another number of
    # them would be refused.
    highspy.Highs.resetGlobalScheduler(True)
    info = solver.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    x = np.array(solver.getSolution().col_value)[: model.columns.count] if found else None
    cost = info.objective_function_value * UNIT if found else np.inf
    bound = info.mip_dual_bound if np.isfinite(info.mip_dual_bound) else -np.inf
    return Direct(cost, bound * UNIT, x)


def _add_rows(solver: highspy.Highs, rows: SparseRows) -> None:
    order = np.argsort(rows.row, kind="stable")
    starts = np.searchsorted(rows.row[order], np.arange(len(rows.lower) + 1))
    for number in range(len(rows.lower)):
        at = order[starts[number] : starts[number + 1]]
        solver.addRow(
            max(rows.lower[number], -highspy.kHighsInf),
            min(rows.upper[number], highspy.kHighsInf),
            len(at),
            rows.column[at].astype(np.int32),
            rows.value[at],
        )


def _add_uses(solver: highspy.Highs, model: Model, rules: UseRules) -> dict:
    """Open ``y`` and ``z`` of every hay, by group, source and period."""
    use = {}
    here = model.problem.needs.head_days > 0
    columns = model.columns
    for x, (g, i, t) in enumerate(
        zip(columns.group.tolist(), columns.source.tolist(), columns.period.tolist(), strict=True)
    ):
        if not rules.is_hay[i]:
            continue
        y = solver.getNumCol()
        solver.addCol(0.0, float(rules.must[g, i, t]), 1.0, 0, [], [])
        solver.changeColIntegrality(y, highspy.HighsVarType.kInteger)
        first = t == 0 or not here[g, t - 1]
        solver.addCol(0.0 if first else rules.change_usd / UNIT, 0.0, 1.0, 0, [], [])
        use[g, i, t] = (x, y, y + 1)
    return use


def _add_rules(solver: highspy.Highs, model: Model, rules: UseRules, use: dict) -> None:
    infinity = highspy.kHighsInf

    def row(lower: float, upper: float, terms: dict[int, float]) -> None:
        at = np.array(list(terms), dtype=np.int32)
        solver.addRow(lower, upper, len(at), at, np.array(list(terms.values())))

    at_once: dict[tuple[int, int], dict[int, float]] = {}
    for (g, i, t), (x, y, z) in use.items():
        most = min(MOST_KG, model.upper[x])
        row(-infinity, 0.0, {x: 1.0, y: -most})
        row(0.0, infinity, {x: 1.0, y: -min(rules.least_kg[g, t], most)})
        at_once.setdefault((g, t), {})[y] = 1.0
        before = use.get((g, i, t - 1))
        if not (t == 0 and rules.open_before[g, i]):
            row(-infinity, 0.0, {y: 1.0, z: -1.0} | ({before[1]: -1.0} if before else {}))
        for later in range(t, t + rules.least_run):
            if (g, i, later) not in use:
                break
            row(-infinity, 0.0, {z: 1.0, use[g, i, later][1]: -1.0})
    for (g, _), terms in at_once.items():
        if rules.hays_at_once[g] < NO_LIMIT:
            row(-infinity, float(rules.hays_at_once[g]), terms)
