"""About how much work something is, counted from the size of the seasons before any is begun."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, isfinite
from typing import Final

from rickyard.display import count_text
from rickyard.farm import Farm
from rickyard.service.plan import ALL_WINTERS, PlanRequest

#: Rows that the season has for each group and period, about.
ROWS_PER_CELL: Final = 12.0

#: What a season costs beside its search: so many units for each row times the root of the rows
#: (its least cost, a first program, repairs and words), and so many whatever its size. Measured
#: from the demonstration farm to 400 periods and to 60 groups. [units of work, about a second each]
UNITS_PER_ROW_AND_ROOT: Final = 9e-6
UNITS_TO_BEGIN: Final = 1.0

#: A level of assurance takes so many times a season's own, for its tangents.
LEVEL_SHARE: Final = 6.0

#: Three winters with one autumn take about so many seasons.
SEASONS_OF_WINTERS: Final = 6

#: A program of rations takes so many times the work of one by weeks beside its search, and so many
#: more for each lot. Measured: 2.7 times on the demonstration farm, 11 with 40 lots and 8 groups.
RATIONS_SHARE: Final = 0.5
RATIONS_SHARE_PER_LOT: Final = 0.25

#: More is asked first: half an hour.
MOST_UNASKED: Final = 1_800.0


def season_units(farm: Farm) -> float:
    """Return about how much work the season of a farm is beside the search for a better program.

    ``farm``: its groups and periods are counted; nothing is solved. Returns work [unit], of which
    one takes about a second of one processor.
    """
    days = (farm.season.end - farm.season.start).days
    cells = max(1, len(farm.groups)) * ceil(days / farm.season.period_days)
    rows = ROWS_PER_CELL * cells + len(farm.lots) + len(farm.feeds)
    return float(UNITS_TO_BEGIN + UNITS_PER_ROW_AND_ROOT * rows**1.5)


def rations_share(farm: Farm) -> float:
    """Return how many times the work of a program by weeks one of rations takes, search apart.

    ``farm``: its lots are counted. Returns at least 1 [-].
    """
    return max(1.0, RATIONS_SHARE + RATIONS_SHARE_PER_LOT * len(farm.lots))


def work_of(
    farms: Iterable[Farm],
    request: PlanRequest,
    *,
    programs: int = 1,
    levels: int = 0,
    answers: float = 0.0,
) -> float:
    """Return about how much work it is to plan farms.

    ``levels``: so many levels of assurance of each beside that. ``answers``: so much work for
    answers on each beside that [units of work]. Returns work [unit], of which one takes about a
    second of one processor.
    """
    search = request.effort
    if isfinite(request.seconds):
        search = min(search, request.seconds)
    if request.winter == ALL_WINTERS:
        programs += SEASONS_OF_WINTERS
    whole = 0.0
    for farm in farms:
        units = season_units(farm)
        share = 1.0 if request.weekly else rations_share(farm)
        whole += programs * (share * units + search) + LEVEL_SHARE * levels * units + answers
    return whole


def is_long(units: float, request: PlanRequest) -> bool:
    """Return whether to ask before beginning; an effort that was stated is no surprise once.

    ``units``: work that it takes [unit]. ``request``: how each farm is planned. Returns true where
    the work is more than anybody expects.
    """
    stated = request.effort if not isfinite(request.seconds) else 0.0
    return units > max(MOST_UNASKED, 1.5 * stated)


def long_work_question(units: float) -> str:
    """Say how long work will take, and what would make it shorter.

    Two sentences.

    >>> print(long_work_question(7_200.0))
    This will take about 2 hours, counted from the groups, weeks and programs asked for, on a \
machine that does nothing else.
    For less, ask of fewer at once, with a smaller --effort, or plan longer periods.
    """
    minutes = round(units / 60.0)
    long = count_text(round(units / 3600.0), "hour") if minutes >= 90 else None
    return (
        f"This will take about {long or count_text(minutes, 'minute')}, counted "
        "from the groups, weeks and programs asked for, on a machine that does nothing else.\n"
        "For less, ask of fewer at once, with a smaller --effort, or plan longer periods."
    )
