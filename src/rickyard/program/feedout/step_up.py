"""Grain and urea are raised by degrees, whatever the program asks for."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from rickyard.quantities import KG_PER_LB
from rickyard.types import FloatArray

#: Half a pound to a pound a day, over ten to fourteen days: common practice.
LEAST_STEP_KG: Final = 0.5 * KG_PER_LB
MOST_STEP_KG: Final = KG_PER_LB
LEAST_DAYS: Final = 10
MOST_DAYS: Final = 14

#: A step is never more than this share of live weight, so that it suits small stock as half a
#: pound suits a cow of a thousand pounds. Common practice.
STEP_PCT_BW: Final = 0.05


def days_to_raise(by_kg: float) -> int:
    """Return over how many days a feed is raised by so much a head. [d].

    Parameters
    ----------
    by_kg : float
        How much more of it a head is to get, as fed. [kg/d]

    Examples
    --------
    >>> [days_to_raise(pounds * KG_PER_LB) for pounds in (2, 6, 10, 20)]
    [10, 12, 14, 20]
    """
    gentle, quick = by_kg / LEAST_STEP_KG - 1e-9, by_kg / MOST_STEP_KG - 1e-9
    return max(LEAST_DAYS, min(MOST_DAYS, math.ceil(gentle)), math.ceil(quick))


def free_step_kg(weight_kg: float) -> float:
    """Return by how much a feed may be raised from one day to the next without more ado. [kg]."""
    return min(LEAST_STEP_KG, STEP_PCT_BW / 100.0 * weight_kg)


def raised_slowly(
    wanted_kg: FloatArray, weight_kg: FloatArray, known_kg: float = 0.0
) -> FloatArray:
    """Return a daily amount a head that reaches what is wanted by small steps.

    Parameters
    ----------
    wanted_kg : array, shape (days,)
        What the program asks for a head. [kg/d]
    weight_kg : array, shape (days,)
        Live weight of a head. [kg]
    known_kg : float
        What a head has been fed of it daily until the first day. [kg/d]

    Returns
    -------
    array, shape (days,)
        Never more than is wanted. [kg/d]

    Notes
    -----
    Where nothing is told of the days before, the animals are taken not to know the feed. Less may
    be given at once.

    Examples
    --------
    >>> given = raised_slowly(np.full(12, 2.0), np.full(12, 500.0))
    >>> given.round(2).tolist()[:3], float(given[9])
    ([0.2, 0.4, 0.6], 2.0)
    """
    given = np.zeros(len(wanted_kg))
    level, step, goal = known_kg, 0.0, known_kg
    for day, wanted in enumerate(wanted_kg.tolist()):
        more = wanted - level
        if more <= free_step_kg(float(weight_kg[day])):
            level, step = wanted, 0.0
        else:
            if wanted > goal or step == 0.0:
                step = max(step, more / days_to_raise(more))
            level = min(wanted, level + step)
        goal = wanted
        given[day] = level
    return given
