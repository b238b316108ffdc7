"""Needs of a ration: what is asked of constant amounts over several weeks.

Of energy and protein the mean over the ration is asked in full, and of each week all but a few
percent. Of minerals, long forage and dry matter every week is asked in full. Ceilings hold in
every week. As amounts are constant, each of these is one number for the whole ration, and the rows
of the weekly program stay what they are.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from rickyard.nutrients import NUTRIENTS
from rickyard.program.inputs import held_steady
from rickyard.program.model import Model, with_fill_of
from rickyard.program.problem import Problem
from rickyard.program.runs.spans import Spans
from rickyard.program.solver import placed
from rickyard.types import BoolArray, FloatArray, IntArray

#: What may fall a little short in a single week while its mean is met.
ON_THE_MEAN: Final = frozenset(
    one.key for one in NUTRIENTS.values() if one.kind in ("energy", "protein")
)

#: Amounts are measured in steps, so that a hundred-thousandth of a need is nothing.
MET_WITHIN: Final = 1e-5


def steady_needs(problem: Problem, spans: Spans, leeway: FloatArray) -> Problem:
    """Return a season whose needs are those of its rations.

    Parameters
    ----------
    problem : Problem
        The season by week.
    spans : Spans
        The rations.
    leeway : array, shape (groups,)
        How much a single week may fall short of energy and protein. [-]

    Returns
    -------
    Problem
        The same but for the needs.
    """
    needs = problem.needs
    number = spans.numbers(problem.shape[2])
    weights = needs.head_days
    least = {
        name: _mean_or_most(value, number, weights, leeway)
        if name in ON_THE_MEAN and name != "nem"
        else _most(value, number)
        for name, value in needs.least.items()
    }
    energy = _by_kind(needs.least["nem"], needs.growing, number, weights, leeway)
    least["nem"] = energy
    retained = _mean_or_most(
        np.where(needs.growing, needs.retained_mcal, np.nan), number, weights, leeway
    )
    steady = replace(
        needs,
        least=least,
        retained_mcal=np.where(needs.growing, np.nan_to_num(retained), needs.retained_mcal),
        most_dm_kg=-_most(-needs.most_dm_kg, number),
        most_ndf_kg=-_most(-needs.most_ndf_kg, number),
    )
    fill = None if problem.fill is None else held_steady(problem.fill, number, weights)
    return replace(problem, needs=steady, met_within=MET_WITHIN, fill=fill)


def _by_kind(
    value: FloatArray, growing: BoolArray, number: IntArray, weights: FloatArray, leeway: FloatArray
) -> FloatArray:
    """Hold energy steady among the weeks of growth and among the others, each for itself."""
    found = value.copy()
    for kind in (growing, ~growing):
        mine = np.where(kind, value, np.nan)
        found[kind] = _mean_or_most(mine, number, weights, leeway)[kind]
    return found


def _mean_or_most(
    value: FloatArray, number: IntArray, weights: FloatArray, leeway: FloatArray
) -> FloatArray:
    """Return the mean over each ration, or the most less the leeway where that is more."""
    found = value.copy()
    for g, mine in _each(number):
        known = mine & np.isfinite(value[g])
        if known.any():
            mean = float(np.average(value[g, known], weights=weights[g, known]))
            found[g, known] = max(mean, (1.0 - leeway[g]) * float(value[g, known].max()))
    return found


def _most(value: FloatArray, number: IntArray) -> FloatArray:
    found = value.copy()
    for g, mine in _each(number):
        known = mine & np.isfinite(value[g])
        if known.any():
            found[g, known] = float(value[g, known].max())
    return found


def _each(number: IntArray) -> list[tuple[int, BoolArray]]:
    return [(g, number[g] == one) for g in range(len(number)) for one in range(number[g].max() + 1)]


def with_needs_of(model: Model, problem: Problem) -> Model:
    """Return a weekly model whose rows ask for the needs of another problem of the same shape.

    Parameters
    ----------
    model : Model
        The weekly model.
    problem : Problem
        The season whose needs are asked for.

    Returns
    -------
    Model
        The model with those needs; columns and rows stand as they were.
    """
    lower, upper = model.rows.lower.copy(), model.rows.upper.copy()
    for name, value in problem.needs.least.items():
        rows, asked = model.row_of[name], value.ravel()
        lower[rows[placed(rows)]] = asked[placed(rows)]
    for name, value in (("most_dm", problem.needs.most_dm_kg), ("ndf", problem.needs.most_ndf_kg)):
        rows, most = model.row_of[name], value.ravel()
        upper[rows[placed(rows)]] = most[placed(rows)]
    filled = with_fill_of(model.rows, problem, model.columns, model.row_of)
    return replace(model, problem=problem, rows=replace(filled, lower=lower, upper=upper))
