"""The only place that talks to HiGHS.

A ``Session`` keeps one linear program alive, so that rows added or coefficients changed
between solves start from the last basis.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from math import sqrt
from typing import Any, Final

import highspy
import numpy as np

from rickyard.program.solver.points import (
    IN_BASIS,
    Basis,
    Meter,
    Optimum,
    SearchLimits,
    SolveError,
    SparseRows,
    WholePoint,
)
from rickyard.types import FloatArray, IntArray

#: Rows may miss by this much; the re-check allows a thousand times more.
FEASIBILITY: Final = 1e-9

#: Binary digits of prices and coefficients, and of bounds, that reach the solver. Processors differ
#: in the last digits of powers and of sums; where several programs cost the same, a search that saw
#: those digits would end at another of them on another machine. Bounds keep more: small changes of
#: them are asked about.
DIGITS: Final = 30
BOUND_DIGITS: Final = 36

#: The solver counts in hundreds of dollars: a season's prices of one unit per head and day then
#: lie around one, where its tolerances are meant to work.
USD_PER_SOLVER_UNIT: Final = 100.0

#: Reduced costs may miss by this much, in the solver's unit.
OPTIMALITY: Final = 1e-7

#: What is tried in turn when the first run ends without an optimum, which a warm basis on
#: changed coefficients can cause: go on from where it stopped, primal simplex, interior point.
SECOND_TRIES: Final[tuple[dict[str, int | str], ...]] = (
    {},
    {"simplex_strategy": 4},
    {"solver": "ipm"},
)

#: The statuses of variables and rows by their numbers.
STATUSES: Final = tuple(sorted((highspy.HighsBasisStatus(number) for number in range(5)), key=int))
LOWER: Final = int(highspy.HighsBasisStatus.kLower)
UPPER: Final = int(highspy.HighsBasisStatus.kUpper)
ZERO: Final = int(highspy.HighsBasisStatus.kZero)

#: How the first run of a program chooses its steps: weights that cost nothing to begin with take it
#: there in less than two thirds of the time. What follows goes a short way from there. Rows and
#: columns are scaled by their largest coefficients.
FIRST_TRY: Final[dict[str, int | str]] = {
    "simplex_dual_edge_weight_strategy": 1,
    "simplex_scale_strategy": 4,
}

#: A price this small, in the solver's unit, on a bound that is not there is rounding.
DUAL_DUST: Final = 1e-6

#: What a run costs, in units of work: simplex iterations and some to begin with, weighed by the
#: root of the rows. A unit took about a second of one processor where this was measured, from the
#: demonstration farm to a large ranch. Nothing but the program itself decides it, so that two runs
#: of the same search end at the same place however busy the machine is.
WORK_PER_ITERATION: Final = 6e-6
ITERATIONS_TO_BEGIN: Final = 50

#: What one step of a search over whole numbers costs for each row, about, in units of work: cuts,
#: and with them the iterations that follow.
WORK_PER_CUTS_AND_ROW: Final = 1.2e-5
WORK_PER_STEP_AND_ROW: Final = 2.4e-5


def rounded(value: FloatArray, digits: int = DIGITS) -> FloatArray:
    """Return numbers rounded to the digits that reach the solver, the same on every processor.

    Parameters
    ----------
    value : array
        Any numbers; what has no bound stays so.
    digits : int
        Binary digits that are kept.

    Returns
    -------
    array
        Each off by at most ``2 ** -digits`` of itself.

    Examples
    --------
    >>> rounded(np.array([0.1, 0.1 + 1e-16, np.inf])).tolist()
    [0.09999999997671694, 0.09999999997671694, inf]
    """
    part, power = np.frexp(value)
    return np.asarray(np.ldexp(np.rint(np.ldexp(part, digits)), power - digits))


class _QuietHighs(highspy.Highs):
    """HiGHS that prints nothing: standard output belongs to the program's own answer."""

    def enableCallbacks(self) -> None:  # noqa: N802 - the library's name
        # The constructor calls this, and registering a callback prints a banner: silence first.
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


class Session:
    """One linear program, minimised again as it grows.

    Parameters
    ----------
    cost, lower, upper : array, shape (n,)
        Cost and bounds of the variables.
    rows : SparseRows
        The rows to begin with.
    meter : Meter, optional
        Counts the work of this session too; else it has one of its own.
    left_out : int
        Rows that were left out because they hold in any case: a step counts as in a program that
        has them too, so that doing without takes less time and not more steps.
    """

    def __init__(
        self,
        cost: FloatArray,
        lower: FloatArray,
        upper: FloatArray,
        rows: SparseRows,
        meter: Meter | None = None,
        left_out: int = 0,
    ) -> None:
        self._highs: Any = _QuietHighs()  # type: ignore[no-untyped-call]
        self._highs.setOptionValue("primal_feasibility_tolerance", FEASIBILITY)
        self._highs.setOptionValue("dual_feasibility_tolerance", OPTIMALITY)
        self._highs.setOptionValue("random_seed", 1)
        self._highs.setOptionValue("threads", 1)
        self._lower, self._upper = np.zeros(0), np.zeros(0)
        # Kept here too: the library would copy the whole program to show the bounds of its rows.
        self._row_lower, self._row_upper = np.zeros(0), np.zeros(0)
        self._row_count, self._begun = 0, False
        self._meter, self._left_out = meter or Meter(), left_out
        self.add_columns(cost, lower, upper)
        self.add_rows(rows)

    def add_columns(
        self,
        cost: FloatArray,
        lower: FloatArray,
        upper: FloatArray,
        entries: tuple[IntArray, IntArray, FloatArray] | None = None,
    ) -> IntArray:
        """Append variables, and return where they stand.

        ``entries``: rows, new variables in order and counted from none, and coefficients; without
        them they stand in no row yet.
        """
        first, count = len(self._lower), len(cost)
        lower, upper = rounded(lower, BOUND_DIGITS), rounded(upper, BOUND_DIGITS)
        self._lower = np.concatenate([self._lower, lower])
        self._upper = np.concatenate([self._upper, upper])
        row, column, value = entries or (np.zeros(0), np.zeros(0), np.zeros(0))
        starts = np.searchsorted(column, np.arange(count)) if len(row) else np.zeros(0)
        self._highs.addCols(
            count,
            rounded(cost) / USD_PER_SOLVER_UNIT,
            lower,
            upper,
            len(row),
            starts.astype(np.int32),
            row.astype(np.int32),
            rounded(value),
        )
        return np.arange(first, first + count)

    def add_rows(self, rows: SparseRows) -> int:
        """Append rows, their triples numbered from zero in the block; return where they begin."""
        count, first = len(rows.lower), self._row_count
        if not count:
            return first
        self._row_count += count
        lower, upper = (rounded(each, BOUND_DIGITS) for each in (rows.lower, rows.upper))
        self._row_lower = np.concatenate([self._row_lower, lower])
        self._row_upper = np.concatenate([self._row_upper, upper])
        rows = rows.in_order()
        starts = np.searchsorted(rows.row, np.arange(count)).astype(np.int32)
        self._highs.addRows(
            count,
            lower,
            upper,
            len(rows.row),
            starts,
            rows.column.astype(np.int32),
            rounded(rows.value),
        )
        return first

    def change(self, row: IntArray, column: IntArray, value: FloatArray) -> None:
        """Replace single coefficients."""
        near = rounded(value)
        for where, which, what in zip(row.tolist(), column.tolist(), near.tolist(), strict=True):
            self._highs.changeCoeff(where, which, what)

    def beside(self, left: IntArray, cost: FloatArray, rows: SparseRows, meter: Meter) -> Session:
        """Return a session of some of the variables, beginning where this one stands.

        ``left``: which variables, and ``cost`` what they cost. ``rows``: these rows, over those
        variables. ``meter``: counts its work.
        """
        lower, upper = self._lower[left], self._upper[left]
        other = Session(cost, lower, upper, rows, meter)
        stands = self.basis()
        if stands is not None:
            other.start_from(stands.of(left))
        return other

    @property
    def work(self) -> float:
        """Return what every run so far has cost, in units of work."""
        return self._meter.work

    def work_to_begin(self) -> float:
        """Return about what a search over whole numbers costs before its first step.

        A first point of the linear program takes about one iteration for two rows.
        """
        return WORK_PER_ITERATION * 0.5 * self._row_count * sqrt(self._row_count)

    def walk_inside(self, *, inside: bool) -> None:
        """Choose how to go from one optimum to the next.

        Inside, through points that keep every row: quicker where costs have changed and the last
        point is still allowed. Otherwise through prices: quicker where rows or bounds have.
        """
        self._highs.setOptionValue("simplex_strategy", 4 if inside else 1)

    def leave_as_given(self) -> None:
        """Solve the program as it stands, where making it smaller first takes longer."""
        self._highs.setOptionValue("presolve", "off")

    def mark(self) -> tuple[int, Any]:
        """Return where the program stands, to come back to: its rows and its basis."""
        return self._row_count, self._highs.getBasis()

    def back_to(self, mark: tuple[int, Any]) -> None:
        """Take away the rows added since a mark, and take up its basis again."""
        count, basis = mark
        if count < self._row_count:
            added = np.arange(count, self._row_count, dtype=np.int32)
            self._highs.deleteRows(len(added), added)
            self._row_count = count
            self._row_lower = self._row_lower[:count].copy()
            self._row_upper = self._row_upper[:count].copy()
        self._highs.setBasis(basis)

    def set_row_bounds(self, row: int, lower: float, upper: float) -> None:
        """Replace the bounds of a row."""
        lower, upper = rounded(np.array([lower, upper]), BOUND_DIGITS).tolist()
        self._row_lower[row], self._row_upper[row] = lower, upper
        self._highs.changeRowBounds(row, lower, upper)

    def basis(self) -> Basis | None:
        """Return where the solver stands, for another program to start from; None if nowhere."""
        if self._highs.getInfo().basis_validity == highspy.kBasisValidityValid:
            return self._basis_of_solution()
        found = self._highs.getBasis()
        if not found.valid:
            return None
        column, row = (
            np.fromiter((int(one) for one in each), dtype=np.int64, count=len(each))
            for each in (found.col_status, found.row_status)
        )
        return Basis(column, row)

    def _basis_of_solution(self) -> Basis:
        """Return the basis of the last solve: each status the library hands over costs it much."""
        _, basic = self._highs.getBasicVariables()
        solution, width = self._highs.getSolution(), len(self._lower)
        at = np.concatenate([np.array(solution.col_value), np.array(solution.row_value)])
        lower = np.concatenate([self._lower, self._row_lower])
        upper = np.concatenate([self._upper, self._row_upper])
        status = np.where(np.abs(at - upper) < np.abs(at - lower), UPPER, LOWER)
        status[~np.isfinite(lower) & ~np.isfinite(upper)] = ZERO
        basic = np.array(basic, dtype=np.int64)
        # Rows are numbered from -1 downwards.
        status[np.where(basic >= 0, basic, width - 1 - basic)] = IN_BASIS
        return Basis(status[:width], status[width:])

    def start_from(self, basis: Basis) -> None:
        """Start the next solve from a basis of as many variables and rows."""
        given = highspy.HighsBasis()
        given.col_status = [STATUSES[one] for one in basis.column.tolist()]
        given.row_status = [STATUSES[one] for one in basis.row.tolist()]
        given.valid = True
        self._highs.setBasis(given)

    def set_row_upper(self, row: int, upper: float) -> None:
        """Replace the upper bound of a row that has no lower one."""
        self.set_row_bounds(row, -np.inf, upper)

    def set_cost(self, cost: FloatArray) -> None:
        """Replace the cost of every variable."""
        count = len(cost)
        which = np.arange(count, dtype=np.int32)
        self._highs.changeColsCost(count, which, rounded(cost) / USD_PER_SOLVER_UNIT)

    def bounds(self) -> tuple[FloatArray, FloatArray]:
        """Return the bounds of every variable."""
        return self._lower.copy(), self._upper.copy()

    def costs(self) -> FloatArray:
        """Return the cost of every variable."""
        return np.array(self._highs.getLp().col_cost_) * USD_PER_SOLVER_UNIT

    @property
    def meter(self) -> Meter:
        """Return what counts the work of this session."""
        return self._meter

    def column_upper(self, column: IntArray) -> FloatArray:
        """Return the upper bounds of variables."""
        return self._upper[column].copy()

    def set_column_upper(self, column: IntArray, upper: FloatArray) -> None:
        """Replace the upper bounds of variables."""
        self.set_column_bounds(column, self._lower[column], upper)

    def charges(self, row_dual: FloatArray, family: IntArray, families: int) -> FloatArray:
        """Return what rows charge each variable at given prices, shape (families, variables).

        ``family`` numbers the family of each row. With its cost, the charges of a variable add up
        to its reduced cost.
        """
        rows, width = self.all_rows(), len(self._lower)
        charge = -row_dual[rows.row] * rows.value
        at = family[rows.row] * width + rows.column
        found = np.bincount(at, charge, minlength=families * width)
        return found.astype(np.float64).reshape(families, width)

    def count_closely(self) -> None:
        """Let whole numbers be nearer to whole than is usual, as amounts made of them are shown."""
        self._highs.setOptionValue("mip_feasibility_tolerance", FEASIBILITY)

    def require_whole(self, column: IntArray) -> None:
        """Let variables take whole values only."""
        self._highs.changeColsIntegrality(
            len(column),
            column.astype(np.int32),
            np.full(len(column), highspy.HighsVarType.kInteger),
        )

    def minimise(self) -> Optimum:
        """Solve and return the optimum.

        Raises ``SolveError`` if the solver ends without an optimum.
        """
        # A farm without stock is a program without variables, which the solver calls empty.
        good = (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kModelEmpty)
        status = self._run({} if self._begun else FIRST_TRY)
        self._begun = True
        for options in SECOND_TRIES:
            if status in good:
                break
            status = self._run(options)
        if status not in good:
            reported = self._highs.modelStatusToString(status)
            raise SolveError(
                f"The solver found no optimum and reported: {reported}. Shortages are always "
                "allowed, so this points at a number far out of scale in the farm folder."
            )
        solution = self._highs.getSolution()
        x = np.array(solution.col_value)
        row_dual = np.array(solution.row_dual)
        reduced = np.array(solution.col_dual)
        return Optimum(
            objective=float(self._highs.getInfo().objective_function_value) * USD_PER_SOLVER_UNIT,
            bound=self._dual_objective(row_dual, reduced) * USD_PER_SOLVER_UNIT,
            x=x,
            row_dual=row_dual * USD_PER_SOLVER_UNIT,
            reduced_cost=reduced * USD_PER_SOLVER_UNIT,
        )

    def minimise_whole(self, limits: SearchLimits, start: FloatArray | None = None) -> WholePoint:
        """Search for the least cost with the whole numbers required, from a start good or bad."""
        self._highs.setOptionValue("mip_rel_gap", limits.gap)
        self._highs.setOptionValue("mip_max_nodes", limits.nodes)
        self._highs.setOptionValue("time_limit", max(0.01, limits.seconds))
        self._highs.setOptionValue("presolve", "off" if limits.as_given else "choose")
        self._highs.setOptionValue("mip_allow_restart", not limits.as_given)
        if start is not None:
            given = highspy.HighsSolution()
            given.col_value = start.tolist()
            self._highs.setSolution(given)
        before = self.work
        with self._ending_when(limits) as taken:
            self._highs.run()
        self._count_work()
        self._meter.work += WORK_PER_CUTS_AND_ROW * len(taken) * self._row_count
        info = self._highs.getInfo()
        found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
        bound = float(info.mip_dual_bound)
        return WholePoint(
            objective=float(info.objective_function_value) * USD_PER_SOLVER_UNIT
            if found
            else np.inf,
            bound=bound * USD_PER_SOLVER_UNIT if np.isfinite(bound) else -np.inf,
            x=np.array(self._highs.getSolution().col_value) if found else None,
            proven=self._highs.getModelStatus() == highspy.HighsModelStatus.kOptimal,
            work=self.work - before,
        )

    def steps_for(self, work: float) -> int:
        """Return how many steps of a search over whole numbers some work is enough for, about."""
        return max(1, int(min(1e9, work / (WORK_PER_STEP_AND_ROW * max(1, self._row_count)))))

    @contextmanager
    def _ending_when(self, limits: SearchLimits) -> Iterator[list[None]]:
        """End a search after its steps or when it is asked to, and yield the steps it takes."""
        taken: list[None] = []

        def ask(event: Any) -> None:
            taken.append(None)
            if len(taken) >= limits.steps or (limits.stop is not None and limits.stop()):
                event.interrupt()

        self._highs.cbMipInterrupt.subscribe(ask)
        try:
            yield taken
        finally:
            self._highs.cbMipInterrupt.unsubscribe(ask)

    def all_rows(self) -> SparseRows:
        """Return every row as it stands now."""
        lp = self._highs.getLp()
        matrix = lp.a_matrix_
        start = np.array(matrix.start_)
        inner = np.array(matrix.index_, dtype=np.int64)
        outer = np.repeat(np.arange(len(start) - 1), np.diff(start))
        by_row = matrix.format_ == highspy.MatrixFormat.kRowwise
        return SparseRows(
            row=outer if by_row else inner,
            column=inner if by_row else outer,
            value=np.array(matrix.value_),
            lower=np.array(lp.row_lower_),
            upper=np.array(lp.row_upper_),
        )

    def set_column_bounds(self, column: IntArray, lower: FloatArray, upper: FloatArray) -> None:
        """Replace both bounds of variables."""
        lower, upper = rounded(lower, BOUND_DIGITS), rounded(upper, BOUND_DIGITS)
        self._lower, self._upper = self._lower.copy(), self._upper.copy()
        self._lower[column], self._upper[column] = lower, upper
        self._highs.changeColsBounds(
            len(column),
            column.astype(np.int32),
            lower,
            upper,
        )

    def _run(self, options: Mapping[str, int | str] | None = None) -> Any:
        before = {}
        for name, value in (options or {}).items():
            before[name] = self._highs.getOptionValue(name)[1]
            self._highs.setOptionValue(name, value)
        self._highs.run()
        self._count_work()
        for name, value in before.items():
            self._highs.setOptionValue(name, value)
        return self._highs.getModelStatus()

    def _count_work(self) -> None:
        """Add what the run that just ended has cost."""
        info = self._highs.getInfo()
        iterations = (
            max(0, info.simplex_iteration_count)
            + max(0, info.ipm_iteration_count)
            + max(0, info.crossover_iteration_count)
        )
        weight = WORK_PER_ITERATION * sqrt(self._row_count + self._left_out)
        self._meter.work += (iterations + ITERATIONS_TO_BEGIN) * weight

    def _dual_objective(self, row_dual: FloatArray, reduced: FloatArray) -> float:
        rows = _priced(row_dual, self._row_lower, self._row_upper)
        return rows + _priced(reduced, self._lower, self._upper)


def _priced(price: FloatArray, lower: FloatArray, upper: FloatArray) -> float:
    """Return the part of the dual objective of rows or variables with these prices and bounds."""
    bound = np.where(price >= 0, lower, upper)
    endless = ~np.isfinite(bound)
    # A price on a bound that does not exist must be zero; dust within the tolerance is.
    if np.any(np.abs(price[endless]) > DUAL_DUST):
        return -np.inf
    return float(np.sum(price[~endless] * bound[~endless]))
