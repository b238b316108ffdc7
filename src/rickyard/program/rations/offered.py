"""How hay is offered to a group, where nobody says: as much as they like, less, or by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from rickyard.animals import CAMELIDS, HORSES, SMALL_RUMINANTS
from rickyard.farm import Farm, Group
from rickyard.hay.feeding import usual_feeder
from rickyard.kinds import Feeder, Offered, Package
from rickyard.program.inputs import fill_of
from rickyard.program.problem import Problem
from rickyard.stock.fill import access_frac
from rickyard.types import FloatArray

#: Feeders into which a day's hay is put by the pound. Common practice.
LIMITING: Final = frozenset({Feeder.BUNK, Feeder.MIXED_RATION, Feeder.UNROLLED_DAILY})

#: Who is fed by hand unless somebody says otherwise. Common practice.
BY_HAND: Final = HORSES | SMALL_RUMINANTS | CAMELIDS


def offered_to(group: Group) -> Offered:
    """Return how hay is offered to a group.

    Parameters
    ----------
    group : Group
        Its feeder and class are read.

    Returns
    -------
    Offered
        What the group says; else limited where they are let to it for some hours, in a mixed
        ration, at a bunk and unrolled daily, by hand for small stock and horses, and as much as
        they like elsewhere.

    Examples
    --------
    >>> from rickyard.kinds import AnimalClass
    >>> offered_to(Group("C", "Cows", AnimalClass.COW, 40, 590.0, feeder=Feeder.CONE_RING))
    <Offered.FREE_CHOICE: 'free_choice'>
    """
    if group.offered is not None:
        return group.offered
    if access_frac(group) < 1.0:
        return Offered.LIMITED
    if group.animal_class in BY_HAND and group.feeder is not Feeder.MIXED_RATION:
        return Offered.HAND_FED
    feeder = group.feeder or usual_feeder(group.animal_class, Package.ROUND)
    return Offered.LIMITED if feeder in LIMITING else Offered.FREE_CHOICE


def with_free_choice(farm: Farm, problem: Problem, eaten: FloatArray | None = None) -> Problem:
    """Return a season in which stock with free access eat what fills them.

    Parameters
    ----------
    farm : Farm
        Its groups and feeds are read.
    problem : Problem
        The season as plain arrays.
    eaten : array, optional
        What is eaten, (groups, sources, periods), for the rates at which concentrate puts forage
        aside. [kg DM per head and day]

    Returns
    -------
    Problem
        The same but for what fills.
    """
    free = np.array([offered_to(group) is Offered.FREE_CHOICE for group in farm.groups], dtype=bool)
    if not free.any():
        return problem
    fill = fill_of(farm, problem.needs, problem.sources, free, eaten, problem.fill)
    return replace(problem, fill=fill)
