"""Small linear programs stated with dense matrices, solved in one go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from rickyard.program.solver.highs import Session
from rickyard.program.solver.points import SparseRows
from rickyard.types import FloatArray


@dataclass(frozen=True, slots=True)
class LinearOptimum:
    """Optimum of a small linear program stated with dense matrices.

    ``dual_ub`` is the change of the objective for one more unit of ``b_ub``: never positive.
    """

    objective: float
    x: FloatArray
    dual_ub: FloatArray


def solve_linear_program(
    cost: ArrayLike,
    a_ub: ArrayLike | None = None,
    b_ub: ArrayLike | None = None,
    a_eq: ArrayLike | None = None,
    b_eq: ArrayLike | None = None,
    integrality: ArrayLike | None = None,
    bounds: Sequence[Sequence[float | None]] | None = None,
) -> LinearOptimum:
    """Minimise ``cost @ x`` within bounds, ``a_ub @ x <= b_ub`` and ``a_eq @ x == b_eq``.

    Raises ``SolveError`` if there is no optimum. Raises ``ValueError`` if the bounds are not one
    pair for each variable.

    Parameters
    ----------
    cost : array, shape (n,)
        Cost of one unit of each variable.
    a_ub, a_eq : array, shape (m, n), optional
        Coefficients of the rows.
    b_ub, b_eq : array, shape (m,), optional
        Right-hand sides.
    integrality : array, shape (n,), optional
        1 where a variable must be whole; prices then mean nothing and are zero.
    bounds : sequence of pairs, length n, optional
        Least and most of each variable; None where there is no such limit. Without `bounds` every
        variable is zero or more.

    Returns
    -------
    LinearOptimum
        Objective, point and the price of each ``a_ub`` row.

    References
    ----------
    .. [1] Taha, H. A., Operations Research, Example 2.2-2: the feed mix of the example below.

    Examples
    --------
    >>> best = solve_linear_program(
    ...     [0.3, 0.9], [[-1, -1], [0.21, -0.3], [-0.03, 0.01]], [-800, 0, 0]
    ... )
    >>> round(best.objective, 2)
    437.65
    """
    c = np.asarray(cost, dtype=np.float64)
    ub, upper = _rows(a_ub, b_ub, len(c))
    eq, fixed = _rows(a_eq, b_eq, len(c))
    matrix = np.vstack([ub, eq])
    row, column = np.nonzero(matrix)
    rows = SparseRows(
        row=row,
        column=column,
        value=matrix[row, column],
        lower=np.concatenate([np.full(len(upper), -np.inf), fixed]),
        upper=np.concatenate([upper, fixed]),
    )
    session = Session(c, *_limits(bounds, len(c)), rows)
    if integrality is not None:
        session.require_whole(np.flatnonzero(np.asarray(integrality)))
    optimum = session.minimise()
    return LinearOptimum(optimum.objective, optimum.x, optimum.row_dual[: len(upper)])


def _limits(
    bounds: Sequence[Sequence[float | None]] | None, width: int
) -> tuple[FloatArray, FloatArray]:
    if bounds is None:
        return np.zeros(width), np.full(width, np.inf)
    if len(bounds) != width or any(len(pair) != 2 for pair in bounds):
        raise ValueError(
            f"bounds must hold {width} pairs of least and most, one for each variable."
        )
    least = [-np.inf if low is None else low for low, _ in bounds]
    most = [np.inf if high is None else high for _, high in bounds]
    return np.array(least, dtype=np.float64), np.array(most, dtype=np.float64)


def _rows(a: ArrayLike | None, b: ArrayLike | None, width: int) -> tuple[FloatArray, FloatArray]:
    if a is None or b is None:
        return np.zeros((0, width)), np.zeros(0)
    return np.asarray(a, dtype=np.float64), np.asarray(b, dtype=np.float64)
