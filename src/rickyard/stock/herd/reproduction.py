"""What condition and weight have to do with breeding again, as published tables print it.

Odds and no promises: range-adapted cattle have bred well in spite of thin scores, and what happens
after calving counts too.
"""

from __future__ import annotations

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given
from rickyard.stock.common import column, find_rows


def printed_outcome(table: str, at: float) -> float:
    """Return the cell of a table of outcomes, as printed.

    Source: Every row names its source.

    Parameters
    ----------
    table : str
        A table of ``condition_outcomes``, such as ``michigan_pregnant_60d``.
    at : float
        Condition score, or percent of mature weight, of a printed row. Another raises
        ``OutOfRange``: no value is read between rows.

    Returns
    -------
    float
        As the table prints it. [% or d]

    Examples
    --------
    >>> printed_outcome("michigan_pregnant_60d", 6.0)
    69.0
    """
    rows = find_rows("condition_outcomes", table=table)
    points = column(rows, "at")
    found = np.flatnonzero(points == at)
    if len(found) != 1:
        printed = ", ".join(f"{one:g}" for one in points)
        raise OutOfRange(f"The table {table} has rows at {printed}; {at:g} is not printed.")
    return float(column(rows, "value")[found[0]])


def expected_outcome(table: str, at: Numeric) -> Numeric:
    """Return an outcome between the printed rows, along straight lines and held at the ends.

    Source: derived from the rows of `printed_outcome`.

    Parameters
    ----------
    table : str
        A table of ``condition_outcomes``.
    at : float or array
        Condition score, or percent of mature weight. [- or %]

    Returns
    -------
    float or array
        In the unit of the table. [% or d]

    Examples
    --------
    >>> expected_outcome("michigan_pregnant_60d", 4.5)
    37.5
    """
    rows = find_rows("condition_outcomes", table=table)
    return as_given(np.interp(np.asarray(at), column(rows, "at"), column(rows, "value")), at)


def outcome_table(table: str) -> tuple[float, float, str]:
    """Return the first and last printed row of a table of outcomes, and its source.

    Parameters
    ----------
    table : str
        A table of ``condition_outcomes``.

    Returns
    -------
    tuple of float, float, str
        Condition score, or percent of mature weight, of its rows; then who printed it. [- or %]

    Examples
    --------
    >>> outcome_table("sprott_pregnant_150d")[:2]
    (4.0, 6.0)
    """
    rows = find_rows("condition_outcomes", table=table)
    points = column(rows, "at")
    return float(points[0]), float(points[-1]), rows[0]["source"].split(";")[0]
