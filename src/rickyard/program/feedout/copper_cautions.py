"""What the copper of a whole diet means for sheep, goats and llamas."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.animals import CLASSES, Stock
from rickyard.farm import Caution
from rickyard.program.problem import Problem
from rickyard.quantities import is_some
from rickyard.stock.sheep import diet_copper_ppm, judge_copper
from rickyard.types import FloatArray

#: The stock that copper poisons first, as the table of copper calls them.
_WHO: Final[Mapping[Stock, str]] = MappingProxyType(
    {Stock.SHEEP: "sheep", Stock.GOATS: "goat", Stock.CAMELIDS: "camelid"}
)

COPPER_SOURCE: Final = "Duncan 1997, In Practice 19:503; Berger, University of Illinois"


def copper_cautions(problem: Problem, eaten: FloatArray) -> Iterator[Caution]:
    """Yield what the richest diet of each group of small stock holds of copper.

    Parameters
    ----------
    problem : Problem
        The season.
    eaten : array, shape (groups, sources, periods)
        What is eaten. [kg DM per head and day]

    Yields
    ------
    Caution
        Where all that a group eats in a period was tested for copper and it is more than they
        need; a diet of unknown copper is spoken of with the feeds that carry it.
    """
    ppm = np.array(
        [np.nan if one.copper_ppm is None else one.copper_ppm for one in problem.sources.values]
    )
    for g, group in enumerate(problem.needs.groups):
        who = _WHO.get(CLASSES[group.animal_class].stock)
        diets = [(is_some(eaten[g, :, t]), eaten[g, :, t]) for t in range(eaten.shape[2])]
        known = [
            diet_copper_ppm(amount[fed].tolist(), ppm[fed].tolist())
            for fed, amount in diets
            if fed.any() and not np.isnan(ppm[fed]).any()
        ]
        if who is None or not known:
            continue
        # What the solver leaves above a limit by a millionth is at the limit.
        verdict = judge_copper(round(max(known), 3), [who])
        if verdict.light == "green":
            continue
        yield Caution(
            "danger" if verdict.light == "red" else "warning",
            group.group_id,
            f"{group.name}: {verdict.sentence} Copper builds up in the liver and kills without "
            "warning: ask a veterinarian.",
            COPPER_SOURCE,
        )
