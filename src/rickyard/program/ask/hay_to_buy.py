"""Which hay would remove a shortage that nothing listed can: the least that it holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Farm, Feed, FeedKind
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.problem import Problem

#: The hay that is looked for, apart from its energy and protein: dry, of middling fiber and
#: minerals. Common practice, no published source.
DM_PCT: Final = 88.0
NDF_PCT: Final = 50.0
CA_PCT: Final = 0.6
P_PCT: Final = 0.25

#: Hay is looked for up to so much energy and protein, the richest that is ordinarily sold, and
#: from so much on. Common practice, no published source. [% DM]
TDN_PCT: Final = (45, 66)
CP_PCT: Final = (5, 20)

_ID: Final = "hay looked for"


@dataclass(frozen=True, slots=True)
class BetterHay:
    """The poorest hay that removes a shortage, and how much of it. [% DM; kg as fed]."""

    tdn_pct: int
    cp_pct: int
    as_fed_kg: float


def with_hay_to_look_for(farm: Farm) -> Farm:
    """Return a farm that could buy one more hay, none of it so far."""
    hay = Feed(
        _ID,
        _ID,
        FeedKind.FORAGE,
        0.0,
        dm_pct=DM_PCT,
        tdn_pct=float(TDN_PCT[1]),
        cp_pct=float(CP_PCT[1]),
        ndf_pct=NDF_PCT,
        ca_pct=CA_PCT,
        p_pct=P_PCT,
        most_kg=0.0,
    )
    return replace(farm, feeds=(*farm.feeds, hay))


def better_hay(
    inquiry: Inquiry,
    problem: Problem,
    least_more: Callable[[Inquiry, int], float | None],
) -> BetterHay | None:
    """Find the least energy, and then the least protein, of a hay that removes a shortage.

    ``inquiry``: the solved season; the hays that it may feed are kept. ``problem``: the season with
    the hay to look for as its last source. ``least_more``: returns how many tonnes of dry matter of
    a source remove the shortage, or ``None``. Returns whole percents; ``None`` where no hay that is
    ordinarily sold would do.
    """
    last = problem.shape[1] - 1

    def tonnes(tdn: int, cp: int) -> float | None:
        return least_more(inquiry.with_source(_of_analysis(problem, last, tdn, cp)), last)

    if tonnes(TDN_PCT[1], CP_PCT[1]) is None:
        return None
    tdn = _least(lambda one: tonnes(one, CP_PCT[1]) is not None, TDN_PCT)
    cp = _least(lambda one: tonnes(tdn, one) is not None, CP_PCT)
    found = tonnes(tdn, cp)
    return None if found is None else BetterHay(tdn, cp, 1e5 * found / DM_PCT)


def _least(does: Callable[[int], bool], span: tuple[int, int]) -> int:
    """Return the least whole number that does, the upper end being known to."""
    low, high = span[0] - 1, span[1]
    while high - low > 1:
        middle = (low + high) // 2
        if does(middle):
            high = middle
        else:
            low = middle
    return high


def _of_analysis(problem: Problem, source: int, tdn: int, cp: int) -> Problem:
    per_kg = {name: np.array(amounts) for name, amounts in problem.per_kg.items()}
    per_kg["tdn"][source], per_kg["cp"][source] = tdn / 100.0, cp / 100.0
    per_kg["nem"][source] = float(nem_from_tdn(float(tdn)))
    per_kg["neg"][source] = float(neg_from_tdn(float(tdn)))
    return replace(problem, per_kg=per_kg)
