"""Runs: weeks on which a group is fed alike, told once instead of week by week."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final, TypeAlias

from rickyard.display import count_text
from rickyard.hay.bales import delivery
from rickyard.program.result import FeedingRow, GroupPeriod, SeasonProgram, SourceKind

#: Weeks are told as one while every amount stays this close to its mean over the run. A
#: loader, a bale and a feed scoop are no more exact: common practice, no published source.
SAME_WITHIN_FRAC: Final = 0.05

#: Less than this for a head and day is what a solver leaves behind, and nobody can put it out. [kg]
DUST_KG: Final = 1e-4

_Together: TypeAlias = Callable[[Sequence[dict[str, float]], Sequence[int]], bool]


@dataclass(frozen=True, slots=True)
class RunAmount:
    """One source over a run.

    ``put_out_kg_per_head_day`` is as fed, feeding loss included: the mean over the days, with
    the least and the most of any period beside it. ``bales`` holds the whole
    bales of each period of the run, or is ``None`` when the source is not fed by the bale.
    """

    source_id: str
    name: str
    kind: SourceKind
    put_out_kg_per_head_day: float
    least_kg_per_head_day: float
    most_kg_per_head_day: float
    bales: tuple[int, ...] | None

    @property
    def is_steady(self) -> bool:
        """Say whether the mean stands for every period: each is within five percent of it."""
        room = SAME_WITHIN_FRAC * self.put_out_kg_per_head_day
        return (
            self.most_kg_per_head_day - self.put_out_kg_per_head_day <= room
            and self.put_out_kg_per_head_day - self.least_kg_per_head_day <= room
        )


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive periods on which a group is fed alike; ``end`` is the day after the last."""

    start: date
    end: date
    periods: int
    head: int
    stages: tuple[str, ...]
    amounts: tuple[RunAmount, ...]


def whole_bales(bales: Sequence[float]) -> tuple[int, ...]:
    """Round bales per period to whole ones, carrying what was rounded off to the next period.

    The total to date never strays more than half a bale from the program.

    >>> whole_bales([2.4, 2.4, 2.4, 2.4, 2.4])
    (2, 3, 2, 3, 2)
    """
    done = 0
    planned = 0.0
    whole = []
    for amount in bales:
        planned += amount
        whole.append(int(delivery.bales_this_feeding(planned, 1.0, done)))
        done += whole[-1]
    return tuple(whole)


def bales_text(bales: Sequence[int], period_days: int = 7) -> str:
    """Say whole bales per period as a person would, those of the whole run in brackets.

    Parameters
    ----------
    bales : sequence of int
        Whole bales of each period. [bales]
    period_days : int
        Length of a period; seven days are called a week. [day]

    Returns
    -------
    str
        The words.

    Examples
    --------
    >>> bales_text([5, 5, 5]), bales_text([2, 3, 2, 3]), bales_text([0, 1, 0, 0])
    ('5 bales a week', '2–3 bales a week (10)', '1 bale in 4 weeks')
    """
    least, most, total = min(bales), max(bales), sum(bales)
    each = "a week" if period_days == 7 else f"every {period_days} days"
    if least == most and least > 0:
        return f"{count_text(most, 'bale')} {each}"
    if least > 0:
        return f"{least:,}–{count_text(most, 'bale')} {each} ({total:,})"
    if total == 0:
        return "no whole bale"
    span = f"{len(bales)} weeks" if period_days == 7 else f"{len(bales) * period_days} days"
    return f"{count_text(total, 'bale')} in {span}"


def runs_of(program: SeasonProgram, group_id: str) -> tuple[Run, ...]:
    """Return the runs of one group in order; periods on which it is fed nothing are left out.

    Each amount in a run stays within five percent of the mean shown for it.
    """
    return _told(program, group_id, _all_alike)


def phases_of(program: SeasonProgram, group_id: str) -> tuple[Run, ...]:
    """Return the phases of one group: the same sources, in amounts that may drift.

    For a reader who wants to see the changes of feed and not every change of amount.
    """
    return _told(program, group_id, _same_sources)


def short_story(program: SeasonProgram, group_id: str, most: int) -> tuple[Run, ...]:
    """Return the runs of a group, or its phases when it has more than ``most`` runs.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    group_id : str
        The group.
    most : int
        How many runs there is room for. [-]

    Returns
    -------
    tuple of Run
        The days on which the group gets the same.
    """
    runs = runs_of(program, group_id)
    return runs if len(runs) <= most else phases_of(program, group_id)


def daily_by_period(program: SeasonProgram, group_id: str) -> dict[str, dict[int, float]]:
    """Return what is put out per head and day, as fed, by source and period. [kg/day].

    Parameters
    ----------
    program : SeasonProgram
        The program.
    group_id : str
        The group.

    Returns
    -------
    dict of str to dict of int to float
        By source and period, what is put out. [kg as fed per head and day]
    """
    who = {one.period: one for one in program.groups if one.group_id == group_id}
    found: dict[str, dict[int, float]] = {}
    for row in program.feeding:
        if row.group_id == group_id and row.offered_kg > 0:
            found.setdefault(row.source_id, {})[row.period] = _per_head_day(row, who[row.period])
    return found


def alike(values: Sequence[float], days: Sequence[int]) -> bool:
    """Say whether every value stays within five percent of their mean over the days.

    >>> alike([10.0, 10.4, 9.7], [7, 7, 7]), alike([10.0, 12.0], [7, 7])
    (True, False)
    """
    mean = sum(v * d for v, d in zip(values, days, strict=True)) / sum(days)
    return all(abs(value - mean) <= SAME_WITHIN_FRAC * mean for value in values)


def group_order(program: SeasonProgram) -> tuple[str, ...]:
    """Return the ids of the groups in the order of the program.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    tuple of str
        The ids of its groups, as the folder lists them.
    """
    return tuple(dict.fromkeys(row.group_id for row in program.groups))


def source_order(program: SeasonProgram, group_id: str) -> tuple[str, ...]:
    """Return the sources a group is fed: hay and grazing first, then by the dry matter eaten.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    group_id : str
        The group.

    Returns
    -------
    tuple of str
        The short names of the sources.
    """
    eaten: dict[str, float] = {}
    for row in program.feeding:
        if row.group_id == group_id and row.offered_kg > 0:
            mass = row.eaten_kg_dm_per_head_day * row.days
            eaten[row.source_id] = eaten.get(row.source_id, 0.0) + mass
    forage = {source.source_id for source in program.sources if source.is_forage}
    return tuple(sorted(eaten, key=lambda one: (one not in forage, -eaten[one], one)))


def _per_head_day(row: FeedingRow, who: GroupPeriod) -> float:
    # Days the group is here: a group that comes or goes within a period is fed on fewer.
    return row.offered_kg / (max(who.head, 1) * max(who.days, 1))


def _told(program: SeasonProgram, group_id: str, together: _Together) -> tuple[Run, ...]:
    who = {one.period: one for one in program.groups if one.group_id == group_id}
    mine = (row for row in program.feeding if row.group_id == group_id)
    rows = [row for row in mine if _per_head_day(row, who[row.period]) > DUST_KG]
    if not rows:
        return ()
    amounts: dict[int, dict[str, float]] = {}
    for row in rows:
        amounts.setdefault(row.period, {})[row.source_id] = _per_head_day(row, who[row.period])
    bales = _delivered(program, rows) if program.deliveries else _whole_by_source(rows)
    days = {period: one.days for period, one in who.items()}
    return tuple(
        _run(program, rows, [who[period] for period in block], amounts, bales, (min(who), max(who)))
        for block in _blocks(amounts, days, together)
    )


def _blocks(
    amounts: dict[int, dict[str, float]], days: dict[int, int], together: _Together
) -> list[list[int]]:
    blocks: list[list[int]] = []
    for period in sorted(amounts):
        block = blocks[-1] if blocks else []
        follows = bool(block) and period == block[-1] + 1
        longer = [*block, period]
        if follows and together([amounts[one] for one in longer], [days[one] for one in longer]):
            block.append(period)
        else:
            blocks.append([period])
    return blocks


def _same_sources(periods: Sequence[dict[str, float]], days: Sequence[int]) -> bool:
    return all(set(one) == set(periods[0]) for one in periods)


def _all_alike(periods: Sequence[dict[str, float]], days: Sequence[int]) -> bool:
    return _same_sources(periods, days) and all(
        alike([one[source] for one in periods], days) for source in periods[0]
    )


def _whole_by_source(rows: Sequence[FeedingRow]) -> dict[str, dict[int, int]]:
    by_source: dict[str, list[FeedingRow]] = {}
    for row in rows:
        by_source.setdefault(row.source_id, []).append(row)
    found: dict[str, dict[int, int]] = {}
    for source_id, mine in by_source.items():
        mine.sort(key=lambda row: row.period)
        counts = [row.bales for row in mine if row.bales is not None]
        if len(counts) == len(mine):
            periods = (row.period for row in mine)
            found[source_id] = dict(zip(periods, whole_bales(counts), strict=True))
    return found


def _delivered(program: SeasonProgram, rows: Sequence[FeedingRow]) -> dict[str, dict[int, int]]:
    """Return the bales that the deliveries bring of each source in each period it is fed.

    A load that comes before the period it is for counts there.
    """
    starts = [period.start for period in program.periods]
    fed: dict[str, set[int]] = {}
    for row in rows:
        fed.setdefault(row.source_id, set()).add(row.period)
    found: dict[str, dict[int, int]] = {}
    for one in program.deliveries:
        if one.group_id != rows[0].group_id or one.bales is None or one.source_id not in fed:
            continue
        periods = fed[one.source_id]
        period = bisect_right(starts, one.day) - 1
        period = min((later for later in periods if later >= period), default=max(periods))
        counts = found.setdefault(one.source_id, dict.fromkeys(sorted(periods), 0))
        counts[period] += one.bales
    return found


def _run(
    program: SeasonProgram,
    rows: Sequence[FeedingRow],
    block: Sequence[GroupPeriod],
    amounts: dict[int, dict[str, float]],
    bales: dict[str, dict[int, int]],
    here: tuple[int, int],
) -> Run:
    group_id = block[0].group_id
    kinds = {row.source_id: row.kind for row in rows}
    names = {source.source_id: source.name for source in program.sources}
    whole_days = {one.index: one.days for one in program.periods}
    periods = [one.period for one in block]
    found = []
    for source_id in source_order(program, group_id):
        if source_id not in amounts[periods[0]]:
            continue
        days = max(sum(one.days for one in block), 1)
        mass = sum(amounts[one.period][source_id] * one.days for one in block)
        each = [amounts[period][source_id] for period in periods]
        counts = bales.get(source_id)
        found.append(
            RunAmount(
                source_id=source_id,
                name=names.get(source_id, source_id),
                kind=kinds[source_id],
                put_out_kg_per_head_day=mass / days,
                least_kg_per_head_day=min(each),
                most_kg_per_head_day=max(each),
                bales=None if counts is None else tuple(counts[period] for period in periods),
            )
        )
    return Run(
        start=_first_day(block[0], whole_days, here),
        end=_day_after(block[-1], whole_days, here),
        periods=len(block),
        head=block[-1].head,
        stages=tuple(dict.fromkeys(one.stage for one in block)),
        amounts=tuple(found),
    )


def _first_day(one: GroupPeriod, whole_days: dict[int, int], here: tuple[int, int]) -> date:
    """Return the first day in a period on which a group is there: one that comes, comes late."""
    comes = one.period == here[0] and here[0] < here[1]
    late = whole_days[one.period] - one.days if comes else 0
    return one.start + timedelta(days=late)


def _day_after(one: GroupPeriod, whole_days: dict[int, int], here: tuple[int, int]) -> date:
    """Return the first day on which a group is no longer there: one that leaves, leaves early."""
    leaves = one.period == here[1]
    return one.start + timedelta(days=one.days if leaves else whole_days[one.period])


#: Less than this in one load is not put on a list: less than half a pound is lost in the bottom of
#: a bucket. Common practice, no published source. [kg]
LEAST_LOAD_KG: Final = 0.22

#: What is put out for days at once is a mineral, of which no group is left without: it is given by
#: the spoon. Common practice, no published source. [kg]
LEAST_FOR_DAYS_KG: Final = 0.02


def least_load_kg(for_days: int) -> float:
    """Return the least load that is put on a list.

    Parameters
    ----------
    for_days : int
        How many days the load is for. [day]

    Returns
    -------
    float
        As fed. [kg]

    Examples
    --------
    >>> least_load_kg(1), least_load_kg(7)
    (0.22, 0.02)
    """
    return LEAST_FOR_DAYS_KG if for_days > 1 else LEAST_LOAD_KG


def without_traces(program: SeasonProgram) -> tuple[SeasonProgram, dict[str, tuple[str, ...]]]:
    """Return a program without feeding too little to weigh, and what that is.

    A feed that comes once a week is a trace only where the week's load is.

    Parameters
    ----------
    program : SeasonProgram
        The program.

    Returns
    -------
    tuple
        The program to show, and for each group the ids of what is left out all season.
    """
    spacing: dict[tuple[str, str], int] = {}
    for one in program.deliveries:
        key = (one.group_id, one.source_id)
        spacing[key] = max(spacing.get(key, 1), one.for_days)
    days = {(one.group_id, one.period): max(one.days, 1) for one in program.groups}

    def is_told(row: FeedingRow) -> bool:
        if row.bales is not None:
            return True
        for_days = spacing.get((row.group_id, row.source_id), 1)
        a_load = row.offered_kg / days[row.group_id, row.period] * for_days
        return a_load >= least_load_kg(for_days)

    kept = tuple(row for row in program.feeding if is_told(row))
    fed = {(row.group_id, row.source_id): None for row in program.feeding if row.offered_kg > 0.0}
    shown = {(row.group_id, row.source_id) for row in kept}
    left_out: dict[str, tuple[str, ...]] = {}
    for group_id, source_id in fed:
        if (group_id, source_id) not in shown:
            left_out[group_id] = (*left_out.get(group_id, ()), source_id)
    return replace(program, feeding=kept), left_out
