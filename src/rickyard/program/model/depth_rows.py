"""How deep a shortage goes: the further below a need, the dearer, so that nobody starves alone.

Without these rows a week without feed would cost what many weeks with a little too little cost.
They stand only in a season that is short.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.program.model.row_builder import RowBuilder
from rickyard.program.problem import Problem
from rickyard.program.solver import placed
from rickyard.quantities import is_some
from rickyard.types import FloatArray, IntArray

#: Shares of a need from which what is missing counts more: grown cows in the middle of pregnancy
#: are cut to 0.85 of their need, common practice; the rest judgement, no published source.
DEPTHS: Final = (0.15, 0.35, 0.6)

#: What it counts more from each of them on, as a share of the price of the first to go short.
#: Judgement, no published source.
DEEPER: Final = MappingProxyType({"nem": 0.5, "gain_energy": 0.5, "tdn": 0.5, "forage": 0.25})


def depth_key(name: str, depth: float) -> str:
    """Return how the variables of what is missing beyond a share of a need are named.

    >>> depth_key("nem", 0.15)
    'nem beyond 15%'
    """
    return f"{name} beyond {100.0 * depth:.0f}%"


def spread_where_short(problem: Problem, shortage: dict[str, IntArray], x: FloatArray) -> Problem:
    """Return a season that goes short evenly, the same where nothing is short.

    Parameters
    ----------
    problem : Problem
        The season.
    shortage : dict
        The variables of what is missing, by need.
    x : array
        The season without whole numbers.

    Returns
    -------
    Problem
        With depths counted if energy or long forage is short in it.
    """
    for name in DEEPER:
        index = shortage[name]
        if is_some(x[index[placed(index)]]).any():
            return replace(problem, spread=True)
    return problem


def depth_rows(
    problem: Problem, shortage: dict[str, IntArray], rows: RowBuilder, neg_per_nem: float
) -> None:
    """Write ``short - beyond <= depth need`` for each depth of each need.

    ``neg_per_nem``: the ratio of the feed by which energy for gain is counted. [-]
    """
    if not problem.spread:
        return
    needs = problem.needs
    gain = needs.least["nem"] + needs.retained_mcal / neg_per_nem
    for name in DEEPER:
        need = (gain if name == "gain_energy" else needs.least[name]).ravel()
        for depth in DEPTHS:
            beyond = shortage[depth_key(name, depth)]
            cells = np.flatnonzero(placed(beyond))
            number = rows.new_rows(-np.inf, depth * need[cells], len(cells))
            rows.entries(number, shortage[name][cells], 1.0)
            rows.entries(number, beyond[cells], -1.0)
