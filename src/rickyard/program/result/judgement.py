"""The one judgement of a season program, from which headline, status and advice are made.

A group that goes hungry comes before anything there is too much of, and that before every other
need. What the farm lacks is told apart from what the search has not found yet, and hay that is
left from hay that is of use to those who are short.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from rickyard.nutrients import NUTRIENTS
from rickyard.program.result.result import NeedRow, SeasonProgram, Shortage
from rickyard.quantities import is_some

STANDING_NOTE: Final = (
    "This program is worked out from the numbers in the farm folder and published equations. "
    "It does not replace a look at the animals: score condition, watch intake, and ask the local "
    "extension office or a veterinarian before acting on anything marked danger or warning."
)

#: How a constrained nutrient is named in a sentence.
NUTRIENT_WORDS: Final = {one.key: one.word for one in NUTRIENTS.values()}

#: What there is too much of where a program misses it; of all else there is too little.
TOO_MUCH: Final = frozenset(one.key for one in NUTRIENTS.values() if one.too_much)

#: Needs that hay meets: where one is short, more hay or better hay may help.
NEEDS_OF_HAY: Final = frozenset(
    ("forage", "forage_share", "least_dm", "nem", "gain_energy", "tdn", "cp", "cp_floor")
)

#: Needs that leave an animal hungry when much of them is missing, and the share that is much.
#: Common practice, no published source.
_HUNGER: Final = frozenset(("forage", "least_dm", "nem", "tdn"))
MUCH_SHARE: Final = 0.25

#: Of several needs that are short from one day on, the one that is told first. Common practice,
#: no published source: an animal feels hunger and thin condition before a lack of minerals.
_MOST_FELT: Final = (
    "least_dm", "nem", "gain_energy", "tdn", "forage", "cp", "cp_floor", "forage_share",
)  # fmt: skip

#: A yard with less than this share of its hay left is called empty: scraps and broken bales.
#: Common practice, no published source.
EMPTY_FRAC: Final = 0.01

#: A program this near to the least possible cost is told to be the cheapest, as a share of it.
PROVEN_GAP: Final = 5e-4

JudgedKind = Literal[
    "enough", "no_stock", "hay_short", "hungry", "need_short", "farm_short", "unfinished"
]


@dataclass(frozen=True, slots=True)
class Judgement:
    """What is to be said of a season program.

    ``kind``: ``enough``; ``no_stock`` where nobody is fed; ``hay_short`` where hay to buy removes
    what is short; ``hungry`` where a group goes without much of its forage or energy and no hay
    helps; ``need_short`` where another need is short or there is too much of something;
    ``farm_short`` where only money or the reserve is missed; ``unfinished`` where what is told
    first is not proven. ``first`` is what is told first, ``hungry`` who goes hungry. ``left_t`` is
    the hay left that those who are short may be fed, ``unfit_t`` the rest of it, and beside both
    ``barred_t`` what no animal here may be fed on any day. [t DM]
    """

    kind: JudgedKind
    first: Shortage | None
    hungry: tuple[str, ...]
    left_t: float
    unfit_t: float
    barred_t: float = 0.0


def judge(program: SeasonProgram) -> Judgement:
    """Judge a season program.

    Parameters
    ----------
    program : SeasonProgram
        The program.

    Returns
    -------
    Judgement
        What headline, mark and advice say.
    """
    hungry = _hungry(program)
    first = min(program.shortages, key=lambda one: _urgency(one, hungry), default=None)
    short = {one.group_id for one in program.shortages if one.nutrient in NEEDS_OF_HAY}
    here = {one.group_id for one in program.groups}
    unfit = barred = left = 0.0
    for lot in program.lots:
        if short and short <= set(lot.kept_from):
            unfit += lot.left_t
        elif here and here <= set(lot.kept_from):
            barred += lot.left_t
        else:
            left += lot.left_t
    groups = tuple(dict.fromkeys(group for group, _ in sorted(hungry)))
    return Judgement(_kind(program, first, hungry), first, groups, left, unfit, barred)


def is_clear(more_usd: float, *programs: SeasonProgram) -> bool:
    """Return whether a difference of cost is more than what is proven of some programs.

    Parameters
    ----------
    more_usd : float
        The difference. [US dollars]
    *programs : SeasonProgram
        The programs it lies between: each may be dearer than it need be by its distance from the
        least possible cost.

    Returns
    -------
    bool
        Whether it is.
    """
    return abs(more_usd) > max(distance_usd(one.cost, one.gap) for one in programs)


def distance_usd(cost_usd: float, gap: float) -> float:
    """Return how far a program may be from the least possible cost. [US dollars].

    Parameters
    ----------
    cost_usd : float
        What the program costs. [US dollars]
    gap : float
        Its proven distance, as a share of its cost, 0 or more. [fraction]

    Returns
    -------
    float
        The distance; 0 where the program is proven to be the cheapest. [US dollars]

    Examples
    --------
    >>> round(distance_usd(30_000.0, 0.004)), distance_usd(30_000.0, 1e-6)
    (120, 0.0)
    """
    return 0.0 if gap < PROVEN_GAP else gap * max(abs(cost_usd), 1.0)


def _kind(
    program: SeasonProgram, first: Shortage | None, hungry: frozenset[tuple[str, str]]
) -> JudgedKind:
    if first is None:
        return "enough" if program.groups else "no_stock"
    if not first.proven:
        return "unfinished"
    if not first.group_id:
        return "farm_short"
    if first.nutrient in NEEDS_OF_HAY:
        start = sum(lot.start_t for lot in program.lots)
        empty = sum(lot.left_t for lot in program.lots) <= EMPTY_FRAC * start
        if program.hay_to_buy is not None or empty:
            return "hay_short"
    return "hungry" if (first.group_id, first.nutrient) in hungry else "need_short"


def _hungry(program: SeasonProgram) -> frozenset[tuple[str, str]]:
    """Return groups and needs of which much is missing on some day."""
    return frozenset((row.group_id, row.nutrient) for row in program.needs if _much_is_missing(row))


def _much_is_missing(row: NeedRow) -> bool:
    return (
        row.nutrient in _HUNGER
        and row.bound == "at_least"
        and is_some(row.shortage)
        and row.shortage >= MUCH_SHARE * row.need
    )


def _urgency(
    shortage: Shortage, hungry: frozenset[tuple[str, str]]
) -> tuple[int, str, int, str, str]:
    """Order what is short: hunger, too much, the animals' other needs, and last the farm's."""
    what = shortage.nutrient
    if not shortage.group_id:
        grave = 3
    elif (shortage.group_id, what) in hungry:
        grave = 0
    else:
        grave = 1 if what in TOO_MUCH else 2
    felt = _MOST_FELT.index(what) if what in _MOST_FELT else len(_MOST_FELT)
    return (grave, shortage.start.isoformat(), felt, shortage.group_id, what)
