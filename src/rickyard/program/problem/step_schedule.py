"""How fast a feed is raised and a hay with nitrate begun, period by period, by rules of safety.

A feed that is new is raised by even steps over some days. So a period in which it begins holds no
more of it than the first of those days have, which is told against the period after it; and from
one period to the next it rises by no more than a step a day brings about.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Farm, FeedKind
from rickyard.program.inputs import LOOK_BACK_DAYS, NeedTable, SourceTable, daily_before_kg
from rickyard.program.problem.one_feed import OneFeed
from rickyard.quantities import DAYS_PER_WEEK, KG_PER_LB
from rickyard.safety import Binding, amount_of, counted_together, diet_rule
from rickyard.types import BoolArray, FloatArray

#: A rise that needs no days: half a pound, or this share of live weight if that is less, percent.
#: Common practice, no published source. [kg as fed]
FREE_KG: Final = 0.5 * KG_PER_LB
FREE_PCT_BW: Final = 0.05

#: A hay that may not begin may still be so many times what it was in the period before.
KEPT: Final = 4.0

#: Days of each third in which a hay with nitrate is begun.
THIRDS: Final = 3


@dataclass(frozen=True, slots=True)
class Step:
    """A feed that a group may only be raised on slowly: one row for each period.

    Written as ``x <= keep x_before + ahead x_after + free``, all kilograms of dry matter a head and
    day, by period, shape (t,); ``before_kg`` is what a head got in the days before the season.
    ``days`` is how long a rise from nothing takes, 0 where only the rise a day is limited. ``also``
    holds sources that are the same feed, bought at another time: ``x`` is then the sum of all.
    """

    rule_id: str
    group: int
    source: int
    keep: FloatArray
    ahead: FloatArray
    free: FloatArray
    before_kg: float
    days: int
    also: tuple[int, ...] = ()

    @property
    def sources(self) -> tuple[int, ...]:
        """Return every purchase of the feed."""
        return (self.source, *self.also)


@dataclass(frozen=True, slots=True)
class Begin:
    """A hay that a group is begun on by thirds: ``x - x_before <= part share total``.

    ``part`` is what the first days leave of the share, by period, shape (t,): NaN where free, and 0
    where another danger has its turn to begin, and then ``x <= KEPT x_before``. ``also`` as in
    `Step`.
    """

    rule_id: str
    group: int
    source: int
    part: FloatArray
    also: tuple[int, ...] = ()

    @property
    def sources(self) -> tuple[int, ...]:
        """Return every purchase of the feed."""
        return (self.source, *self.also)


@dataclass(frozen=True, slots=True)
class Beside:
    """What a group gets only with something beside it: ``sum of <= most sum beside + free_kg``.

    ``of`` and ``beside`` mark the sources, (i,). It holds in the periods of ``on``, (t,), and in
    all where there is none; ``free_kg``, (t,), may be eaten of it whatever is beside it. [kg DM]
    What is ``soft`` may be missed at a price.
    """

    rule_id: str
    group: int
    of: BoolArray
    beside: BoolArray
    most: float
    on: BoolArray | None = None
    free_kg: FloatArray | None = None
    soft: bool = False


def besides_of(farm: Farm, sources: SourceTable) -> tuple[Beside, ...]:
    """Return what is fed only with forage, or with hay without nitrate, beside it.

    Parameters
    ----------
    farm : Farm
        Its groups and feeds are read.
    sources : SourceTable
        The rules that bind on its lots and feeds.

    Returns
    -------
    tuple of Beside
        Meals with forage, and hay that is only for a mix with other hay.
    """
    lots = sources.lot_count
    meal = np.zeros(len(sources.values), dtype=bool)
    meal[lots:] = [feed.kind in (FeedKind.GRAIN, FeedKind.SUPPLEMENT) for feed in farm.feeds]
    forage = np.array([value.is_forage for value in sources.values], dtype=bool)
    found = []
    for g, group in enumerate(farm.groups):
        rule = diet_rule(BESIDE_RULES, group, farm)
        if rule is not None and rule.amount is not None and meal.any():
            most = (100.0 - rule.amount) / rule.amount
            found.append(Beside(rule.rule_id, g, meal, forage, most))
        mixed = {
            one.source_id
            for one in sources.bound
            if one.group_id == group.group_id and one.rule.mixed
        }
        limited = np.array([value.source_id in mixed for value in sources.values], dtype=bool)
        limited &= sources.allowed[g].any(axis=1)
        safe = amount_of("nitrate-beside")
        if limited.any():
            most = (100.0 - safe) / safe
            found.append(Beside("nitrate-beside", g, limited, forage & ~limited, most))
    return tuple(found)


def shared_limits(needs: NeedTable, sources: SourceTable) -> tuple[Beside, ...]:
    """Return what several sources may be of a diet together, where one rule limits each of them.

    Two grains that may each be a fifth of the ration are a fifth together.

    Parameters
    ----------
    needs : NeedTable
        Periods and weights.
    sources : SourceTable
        The rules that bind on its lots and feeds.

    Returns
    -------
    tuple of Beside
        One for each group and limit that two sources or more share in some period.
    """
    group_at = {group.group_id: g for g, group in enumerate(needs.groups)}
    source_at = {value.source_id: i for i, value in enumerate(sources.values)}
    found = []
    for mine in counted_together(one for one in sources.bound if one.rule.demand != "mix"):
        rule, g = mine[0].rule, group_at[mine[0].group_id]
        holds = np.zeros((len(sources.values), len(needs.periods)), dtype=bool)
        for one in mine:
            when = [one.holds(span.start, span.days) for span in needs.periods]
            holds[source_at[one.source_id]] |= when
        holds &= sources.allowed[g] & needs.here[g]
        on = np.asarray(holds.sum(axis=0) > 1, dtype=bool)
        of = np.asarray(holds.any(axis=1), dtype=bool)
        amount = rule.amount
        if amount is None or not on.any():
            continue
        if rule.demand == "share":
            most, free_kg = amount / (100.0 - amount), None
        else:
            most, free_kg = 0.0, amount / 100.0 * needs.full_weight_kg[g]
        found.append(Beside(rule.rule_id, g, of, ~of, most, on, free_kg))
    return tuple(found)


def mixes_of(needs: NeedTable, sources: SourceTable) -> tuple[Beside, ...]:
    """Return what is fed only with other forage beside it, as far as there is some.

    Parameters
    ----------
    needs : NeedTable
        Periods and who is here.
    sources : SourceTable
        The rules that bind on its lots and feeds.

    Returns
    -------
    tuple of Beside
        One for each group and rule, of all that it binds.
    """
    forage = np.array([value.is_forage for value in sources.values], dtype=bool)
    source_at = {value.source_id: i for i, value in enumerate(sources.values)}
    found = []
    for g, group in enumerate(needs.groups):
        mine: dict[str, list[Binding]] = {}
        for one in sources.bound:
            if one.group_id == group.group_id and one.rule.demand == "mix":
                mine.setdefault(one.rule.rule_id, []).append(one)
        for rule_id, bound in mine.items():
            of = np.zeros(len(forage), dtype=bool)
            of[[source_at[one.source_id] for one in bound]] = True
            part = amount_of(rule_id) / 100.0
            on = needs.here[g] & (sources.allowed[g] & of[:, None]).any(axis=0)
            most = part / (1.0 - part)
            found.append(Beside(rule_id, g, of, forage & ~of, most, on, soft=True))
    return tuple(found)


#: The rules of forage beside meals.
BESIDE_RULES: Final = ("forage-beside-cattle", "forage-beside-small", "forage-beside-horses")


def steps_of(
    farm: Farm, needs: NeedTable, sources: SourceTable
) -> tuple[tuple[Step, ...], tuple[Begin, ...]]:
    """Return the rows of safety that tie one period to the next.

    Parameters
    ----------
    farm : Farm
        Its feeding log says what stock know.
    needs : NeedTable
        Periods and weights.
    sources : SourceTable
        The rules that bind on its lots and feeds.

    Returns
    -------
    tuple
        Feeds that are raised by steps, and hay that is begun by thirds.
    """
    turns = _Turns(farm, needs, sources)
    steps = tuple(_steps(farm, needs, sources, turns))
    return steps, tuple(_begins(farm, needs, sources, turns))


class _Turns:
    """Whose week it is: of what can hurt when it is new, one thing begins in a week.

    Nitrate hay, grain and urea take turns, of those that a group may be fed.
    """

    def __init__(self, farm: Farm, needs: NeedTable, sources: SourceTable) -> None:
        self.week = np.array(
            [(one.start - farm.season.start).days // DAYS_PER_WEEK for one in needs.periods],
            dtype=np.int64,
        )
        group_at = {group.group_id: g for g, group in enumerate(farm.groups)}
        source_at = {value.source_id: i for i, value in enumerate(sources.values)}
        npn = [one for one in sources.bound if one.found.finding == "begin_npn"]
        self.npn = {(one.group_id, one.source_id) for one in npn}
        kinds: dict[str, set[str]] = {}
        for one in sources.bound:
            if one.rule.demand not in ("step", "begin"):
                continue
            g, i = group_at[one.group_id], source_at[one.source_id]
            limited = one.rule.demand == "step" or bool((sources.share_limit[g, i] < 1.0).any())
            if limited and sources.allowed[g, i].any():
                kinds.setdefault(one.group_id, set()).add(self.kind_of(one))
        self.order = {who: [one for one in KINDS if one in mine] for who, mine in kinds.items()}

    def kind_of(self, one: Binding) -> str:
        """Return which danger a rule is about; a feed with urea goes by its urea."""
        if one.rule.demand == "begin":
            return "nitrate"
        return "npn" if (one.group_id, one.source_id) in self.npn else "grain"

    def may_begin(self, group_id: str, kind: str) -> BoolArray:
        """Return the periods in which a group may begin on a kind."""
        order = self.order.get(group_id, [])
        if kind not in order:
            return np.ones(len(self.week), dtype=bool)
        turns: dict[str, int] = {one: number for number, one in enumerate(order)}
        return np.asarray(self.week % len(order) == turns[kind])


#: What takes turns, in this order: hay is there from the first day.
KINDS: Final = ("nitrate", "grain", "npn")


def _of_one_feed(
    farm: Farm, sources: SourceTable, demands: tuple[str, ...]
) -> Iterator[tuple[Binding, int, list[int]]]:
    """Yield the rules of some demands, each with its group and all purchases of its feed.

    Corn is corn: what was bought in autumn and what is bought later go by one row. By how much a
    day grain may rise holds for all grains together.
    """
    group_at = {group.group_id: g for g, group in enumerate(farm.groups)}
    source_at = {value.source_id: i for i, value in enumerate(sources.values)}
    feed = OneFeed.of(farm)
    found: dict[tuple[str, int, str], tuple[Binding, list[int]]] = {}
    for one in sources.bound:
        g = group_at[one.group_id]
        if one.rule.demand in demands and sources.allowed[g, source_at[one.source_id]].any():
            known = "" if one.rule.demand == "rise" else feed(one.source_id)
            key = (one.rule.rule_id, g, known)
            found.setdefault(key, (one, []))[1].append(source_at[one.source_id])
    for (_, g, _), (one, places) in found.items():
        yield one, g, places


def _steps(farm: Farm, needs: NeedTable, sources: SourceTable, turns: _Turns) -> Iterator[Step]:
    feed = OneFeed.of(farm)
    grains: dict[tuple[str, int], list[Step]] = {}
    for one, g, (i, *also) in _of_one_feed(farm, sources, ("step", "rise")):
        if one.rule.amount is None:
            continue
        dry = min(sources.values[place].dm_pct for place in (i, *also)) / 100.0
        days = needs.days[g]
        free = dry * np.minimum(FREE_KG, FREE_PCT_BW / 100.0 * needs.full_weight_kg[g])
        if one.rule.demand == "step":
            over = int(one.rule.amount)
            keep, ahead = step_factors(days, over)
            turn = turns.may_begin(one.group_id, turns.kind_of(one))
            ahead, free = np.where(turn, ahead, 0.0), np.where(turn, free, 0.0)
        else:
            over = 0
            keep, ahead = np.ones(len(days)), np.zeros(len(days))
            # On the mean of a period that begins with a rise: half of the days and half a day.
            free = np.maximum(free, one.rule.amount * dry * (days + 1.0) / 2.0)
        ids = {feed(sources.values[place].source_id) for place in (i, *also)}
        before = dry * sum(daily_before_kg(farm, farm.groups[g], each) for each in sorted(ids))
        step = Step(one.rule.rule_id, g, i, keep, ahead, free, before, over, tuple(also))
        if one.rule.demand == "step" and turns.kind_of(one) == "grain":
            grains.setdefault((one.rule.rule_id, g), []).append(step)
        yield step
    for several in grains.values():
        if len(several) > 1:
            yield _together(several)


def _together(grains: Sequence[Step]) -> Step:
    """Return the row by which several grains rise together no faster than one of them may.

    What needs no days is free once, for all of them. Days are counted with each grain alone.
    """
    first, *others = grains
    return replace(
        first,
        free=np.min([one.free for one in grains], axis=0),
        before_kg=sum(one.before_kg for one in grains),
        days=0,
        also=(*first.also, *(at for one in others for at in one.sources)),
    )


def step_factors(days: FloatArray, over: int) -> tuple[FloatArray, FloatArray]:
    """Return what a period may hold of the one before and the one after while a feed is raised.

    Parameters
    ----------
    days : array, shape (periods,)
        Days of each period. [d]
    over : int
        Days over which the feed is raised from nothing. [d]

    Returns
    -------
    tuple of array
        Factors of the period before and the period after. [-]

    Notes
    -----
    A rise by even steps over ``over`` days fulfils both with equality in its first periods.

    Examples
    --------
    >>> keep, ahead = step_factors(np.full(3, 7.0), 14)
    >>> keep.round(3).tolist(), ahead.round(3).tolist()
    ([1.477, 1.477, 1.0], [0.364, 0.364, 0.0])
    """
    count = len(days)
    keep, ahead = np.ones(count), np.zeros(count)
    for t in range(count - 1):
        now, after = int(days[t]), int(days[t + 1])
        if not (now and after):
            continue
        ahead[t] = min(1.0, _mean(0, now, over) / _mean(now, after, over))
        for offset in range(now, over, now):
            wanted = _mean(offset, now, over) - ahead[t] * _mean(offset + now, after, over)
            keep[t] = max(keep[t], wanted / _mean(offset - now, now, over))
    return keep, ahead


def _mean(offset: int, days: int, over: int) -> float:
    """Return the mean height of a rise over some of its days."""
    return float(np.minimum(1.0, (offset + np.arange(1.0, days + 1.0)) / over).mean())


def begin_parts(days: int) -> FloatArray:
    """Return which part of its share a hay with nitrate may be on each of its first days.

    Parameters
    ----------
    days : int
        Days from the first on.

    Returns
    -------
    array
        Part of the share that it may be in the end, a value a day [fraction].

    Examples
    --------
    >>> begin_parts(7).round(2).tolist()
    [0.33, 0.33, 0.33, 0.67, 0.67, 0.67, 1.0]
    """
    return np.minimum(1.0, (1.0 + np.arange(days) // THIRDS) / THIRDS)


def _begins(farm: Farm, needs: NeedTable, sources: SourceTable, turns: _Turns) -> Iterator[Begin]:
    feed = OneFeed.of(farm)
    known = _fed_before(farm)
    for one, g, (i, *also) in _of_one_feed(farm, sources, ("begin",)):
        both = [i, *also]
        shared = (sources.share_limit[g, both] < 1.0) & sources.allowed[g, both]
        limited = np.asarray(shared.any(axis=0))
        part = np.full(len(limited), np.nan)
        turn = turns.may_begin(one.group_id, "nitrate")
        fed = (one.group_id, feed(one.source_id)) in known
        for t in np.flatnonzero(limited & needs.here[g]).tolist():
            if t or not fed:
                mean = float(begin_parts(int(needs.days[g, t])).mean())
                part[t] = mean if turn[t] else 0.0
        if np.isfinite(part).any():
            yield Begin(one.rule.rule_id, g, i, part, tuple(also))


def _fed_before(farm: Farm) -> set[tuple[str, str]]:
    start = farm.season.start
    return {
        (row.group_id, row.source_id)
        for row in farm.fed
        if 0 < (start - row.day).days <= LOOK_BACK_DAYS
    }
