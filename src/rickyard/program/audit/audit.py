"""A second look at a finished program, from the program and the farm alone.

Nothing of the matrix, the problem arrays or the solver is used: every amount that is fed is added
up again in plain loops, and every balance, need, ceiling, rule, price and day follows from it.
A program that fails here is not shown to anybody.

Taken on trust, since a second copy of it would be the same science typed twice:

- what an animal needs on a day (`rickyard.stock.herd`), and its mean over a period by
  `season_series` with the weather of `season_weather`;
- what a lot weighs at the start and what storage leaves of it, by `yard_lot`;
- what a laboratory value means (`rickyard.forage`), and whether a pasture may carry nitrate, by
  `is_nitrate_suspect_pasture`;
- the published limits themselves, such as the most grain a day;
- where the need and the supply of a nutrient are read and what turns one into the unit of the
  other (`rickyard.nutrients`), of what stock a class is (`rickyard.animals`), and into which
  feeders hay goes daily (`FEEDERS` of `rickyard.hay.feeding`).

Each of them is held to print and to sums by hand in tests of its own.
"""

from __future__ import annotations

from collections.abc import Iterator

from rickyard.farm import Farm
from rickyard.program.audit.assured import assured_breaches
from rickyard.program.audit.books import book_breaches
from rickyard.program.audit.ceilings import ceiling_breaches
from rickyard.program.audit.change import change_breaches
from rickyard.program.audit.deliveries import delivery_breaches
from rickyard.program.audit.fed import feeding_breaches
from rickyard.program.audit.needs import (
    fall_breaches,
    forage_breaches,
    mix_breaches,
    need_breaches,
)
from rickyard.program.audit.use import rule_breaches, unkept_wishes
from rickyard.program.audit.values import value_breaches
from rickyard.program.audit.view import AuditView, Breach
from rickyard.program.ration_check import fill_breaches, ration_breaches
from rickyard.program.result import SeasonProgram
from rickyard.stock.herd import with_stated_needs

__all__ = ["Breach", "recheck"]


def recheck(program: SeasonProgram, farm: Farm) -> tuple[Breach, ...]:
    """Work a finished program out again and return what does not hold.

    Parameters
    ----------
    program : SeasonProgram
        The program to check.
    farm : Farm
        The farm it was made for.

    Returns
    -------
    tuple of Breach
        Empty when every balance, need, ceiling, rule, bar and cost holds to 1e-6.
    """
    return tuple(_breaches(program, AuditView(program, with_stated_needs(farm), farm.needs)))


def _breaches(program: SeasonProgram, look: AuditView) -> Iterator[Breach]:
    yield from value_breaches(look)
    yield from feeding_breaches(look)
    yield from book_breaches(look)
    yield from need_breaches(look)
    yield from fall_breaches(look)
    yield from forage_breaches(look)
    yield from mix_breaches(look)
    yield from ceiling_breaches(look)
    yield from rule_breaches(look)
    yield from (Breach(*one) for one in ration_breaches(program, look.farm))
    yield from (Breach(*one) for one in fill_breaches(program, look.farm))
    yield from assured_breaches(program, look.farm)
    yield from (Breach(*one) for one in unkept_wishes(program))
    yield from delivery_breaches(program, look.farm)
    yield from change_breaches(program, look.farm)
