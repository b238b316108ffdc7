"""A second look at how fast a group's hay changes, from the feeding and the farm alone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator
from datetime import date, timedelta
from typing import Final

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.audit.nitrate_days import (
    above_two_thirds,
    by_thirds,
    held_to_limit,
    held_to_rules,
    lowered,
    nitrate_of_days,
)
from rickyard.program.audit.swaps import (
    OtherHay,
    evened,
    grass_eaten,
    hay_that_stands_in,
    known_goes_on,
    known_kg,
    may_be_fed,
    swapped,
)
from rickyard.program.audit.view import Breach, is_over
from rickyard.program.ration_check import waits
from rickyard.program.result import NeedRow, SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import bindings

#: Kilograms as fed for the whole group, by source and day.
Asked = dict[str, dict[date, float]]


def days_here(program: SeasonProgram, group: Group) -> dict[date, int]:
    """Return the days of the season on which a group is here, each with its period."""
    found = {}
    for period in program.periods:
        for number in range(period.days):
            day = period.start + timedelta(days=number)
            late = group.to_on is not None and day >= group.to_on
            early = group.from_on is not None and day < group.from_on
            if not (late or early):
                found[day] = period.index
    return found


def is_hay(farm: Farm, source_id: str) -> bool:
    """Return whether a source is a lot or a bought forage."""
    kinds = (feed.kind for feed in farm.feeds if feed.feed_id == source_id)
    return next(kinds, FeedKind.FORAGE) is FeedKind.FORAGE


def hay_over(program: SeasonProgram, farm: Farm) -> dict[str, float]:
    """Return the dry matter of each hay that is fed to nobody, kg."""
    over = {lot.lot_id: lot.left_t * 1000.0 for lot in program.lots}
    for value in program.sources:
        for feed in farm.feeds:
            if feed.feed_id == value.source_id and feed.kind is FeedKind.FORAGE:
                most = float("inf") if feed.most_kg is None else feed.most_kg
                for row in program.feeding:
                    most -= row.offered_kg if row.source_id == feed.feed_id else 0.0
                over[feed.feed_id] = max(0.0, most) * value.dm_pct / 100.0
    return over


def asked_by_day(
    program: SeasonProgram,
    farm: Farm,
    group: Group,
    limited: Collection[str],
    over: dict[str, float],
) -> Asked:
    """Return what the program asks for, spread over the days of each period.

    Where the group changes hay over some days, the new hay comes in by even steps. What is
    ``limited`` to a share of the ration stays even, so that no day has more of it. What makes up
    for feeds that are held back in rations is taken off what is ``over`` of each hay.
    """
    by_period: dict[int, list[date]] = defaultdict(list)
    for day, period in days_here(program, group).items():
        by_period[period].append(day)
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    amounts: dict[int, dict[str, float]] = defaultdict(dict)
    for row in program.feeding:
        if row.group_id == group.group_id:
            amounts[row.period][row.source_id] = row.offered_kg
    asked: Asked = defaultdict(dict)
    for period, days in by_period.items():
        here = amounts[period]
        new = _new_hays(
            farm, group, here, amounts.get(period - 1) if period - 1 in by_period else None
        )
        new -= set(limited)
        hays = {one: dry[one] for one in here if is_hay(farm, one) and one not in limited}
        parts = _parts(here, new, hays, group.change_over_days or 1, len(days))
        for source_id, kilograms in here.items():
            for number, day in enumerate(days):
                asked[source_id][day] = kilograms * parts[source_id][number]
    swapped(program, farm, group, asked, by_period)
    others = hay_that_stands_in(program, farm, group, asked, limited)
    return _made_safe_as_one(program, farm, group, dict(asked), (dry, over), others)


def _made_safe_as_one(
    program: SeasonProgram,
    farm: Farm,
    group: Group,
    asked: Asked,
    dry_and_over: tuple[dict[str, float], dict[str, float]],
    others: list[str],
) -> Asked:
    """Let what is bought at several times, but is one feed, climb and begin as one."""
    one_of = {feed.feed_id: feed.same_as for feed in farm.feeds if feed.same_as}
    one_of = {later: first for later, first in one_of.items() if later in asked}
    whole = {one: dict(days) for one, days in asked.items() if one not in one_of}
    for later, first in one_of.items():
        both = whole.setdefault(first, {})
        for day, kilograms in asked[later].items():
            both[day] = both.get(day, 0.0) + kilograms
    safe = _made_safe(program, farm, group, whole, dry_and_over, others)
    for later, first in one_of.items():
        safe[later] = {
            day: safe[first].get(day, 0.0) * kilograms / whole[first][day]
            for day, kilograms in asked[later].items()
            if is_some(kilograms)
        }
    for first in set(one_of.values()):
        laters = [later for later, known in one_of.items() if known == first]
        rest = {
            day: kilograms - sum(safe[later].get(day, 0.0) for later in laters)
            for day, kilograms in safe[first].items()
        }
        safe[first] = rest
        if first not in asked:
            del safe[first]
    return safe


#: A rise from one day to the next that needs no steps: half a pound, or this part of live weight;
#: of urea none does.
SMALL_RISE_KG: Final = 0.226796185
SMALL_RISE_OF_WEIGHT: Final = 0.0005

#: So much of a period's hay is there on each of its days.
LEAST_OF_HAY: Final = 0.3


def _made_safe(
    program: SeasonProgram,
    farm: Farm,
    group: Group,
    asked: Asked,
    dry_and_over: tuple[dict[str, float], dict[str, float]],
    others: list[str],
) -> Asked:
    """Let feeds climb and nitrate hay begin low in each period, and other hay make up for it.

    ``others`` is hay that stands in where what is fed does not make up for it.
    """
    dry, over_kg = dry_and_over
    mine = [one for one in bindings(farm) if one.group_id == group.group_id]
    demands = {(one.source_id, one.rule.demand): one.rule.amount or 0.0 for one in mine}
    mixed = {one.source_id for one in mine if one.rule.mixed}
    urea = {one.source_id for one in mine if one.rule.rule_id == "urea-step"}
    weeks: dict[int, list[date]] = defaultdict(list)
    for day, period in days_here(program, group).items():
        weeks[period].append(day)
    order = sorted(weeks)
    weight = {
        one.period: one.full_weight_kg for one in program.groups if one.group_id == group.group_id
    }
    safe = {source_id: dict(days) for source_id, days in asked.items()}
    held_back = bool(program.rations)  # amounts are constant: hay makes up and never gives way
    held: dict[date, float] = defaultdict(float)
    known_ids = frozenset(one for one in asked if is_some(known_kg(farm, group, one)))
    days_of_all = [day for one in order for day in weeks[one]]
    waiting = waits(asked, days_of_all, mine, known_ids) if held_back else set()
    highest = {
        one: max(days.values(), default=0.0)
        for one, days in asked.items()
        if (one, "rise") in demands
    }
    for source_id, days in asked.items():
        over = int(demands.get((source_id, "step"), 0))
        means = {period: days.get(weeks[period][0], 0.0) for period in order}
        before = known_kg(farm, group, source_id)
        closed = {day for one, day in waiting if one == source_id}
        if over:
            # All grains together rise by no more than one of them may.
            part = highest[source_id] / sum(highest.values()) if highest.get(source_id) else 1.0
            most = part * demands.get((source_id, "rise"), float("inf")) * max(group.head, 1)
            free = {
                period: (0.0 if source_id in urea else part)
                * max(group.head, 1)
                * min(SMALL_RISE_KG, SMALL_RISE_OF_WEIGHT * weight.get(period, group.weight_kg))
                for period in order
            }
            line = _climbs(means, weeks, order, free, (over, most, before))
            if held_back:
                line = _held_back((means, closed), weeks, order, free, (over, most, before))
        elif (source_id, "begin") in demands:
            means = {one: 0.0 if weeks[one][0] in closed else kg for one, kg in means.items()}
            line = by_thirds(means, weeks, order, is_some(before), held_back=held_back)
        else:
            continue
        safe[source_id] = line
        for day, kilograms in line.items():
            held[day] += (days.get(day, 0.0) - kilograms) * dry[source_id]
    go_on = days_of_all if held_back else []
    known = known_goes_on(safe, asked, farm, mine, go_on, dry_and_over)
    held.update({day: held[day] - kilograms for day, kilograms in known.items()})
    poison = nitrate_of_days(program, farm, group, mine, weeks)
    begun = [] if held_back else [one for one in asked if (one, "begin") in demands]
    hays = [one for one in asked if is_hay(farm, one) and one not in mixed]
    nitrate = [] if held_back else sorted(mixed & asked.keys())
    known_weeks = [
        (days, {one for one in others if all(may_be_fed(farm, one, day) for day in days)})
        for days in weeks.values()
    ]
    cut = above_two_thirds(safe, asked, nitrate, hays, (dry, over_kg, known_weeks))
    held.update({day: held[day] + kilograms for day, kilograms in cut.items()})
    if poison is not None and begun:
        down = lowered(poison, safe, asked, hays, begun, (dry, 1.0 - LEAST_OF_HAY))
        held.update({day: held[day] + kilograms for day, kilograms in down.items()})
    fixed = None if held_back else {one: asked[one] for one in hays}
    _made_up_by_day(safe, (hays, fixed), list(weeks.values()), held, dry_and_over)
    moved = bool(known) or any(map(is_some, map(abs, held.values())))
    if moved:
        stands = OtherHay.of(others, farm, asked, dry_and_over, grass_eaten(program, farm, group))
        stands.fill_hungry(safe, asked)
        held_to_limit(poison, safe, asked, hays, dry_and_over, _make_up_days, stands)
        eaten = {} if poison is None else poison.eaten
        what = (hays, mine, known_ids, farm)
        hays = held_to_rules(safe, asked, what, eaten, dry_and_over, _make_up_days)
        held_to_limit(poison, safe, asked, hays, dry_and_over, _make_up_days, stands)
        stands.fill_hungry(safe, asked)
    return safe


def _made_up_by_day(
    safe: Asked,
    hays: tuple[list[str], Asked | None],
    weeks: list[list[date]],
    held: dict[date, float],
    dry_and_over: tuple[dict[str, float], dict[str, float]],
) -> None:
    """Let hay make up for what is held back; where its amount is fixed it gives way later."""
    names, fixed = hays
    lacks: dict[date, float] = {}
    for week in weeks:
        new: dict[date, float] = {day: held[day] for day in week}
        lacks |= new if fixed is None else _fill(safe, fixed, week, held, dry_and_over[0])
    _make_up_days(safe, names, lacks, dry_and_over)


def _make_up_days(
    safe: Asked,
    names: list[str],
    lacks: dict[date, float],
    dry_and_over: tuple[dict[str, float], dict[str, float]],
) -> None:
    """Let the hay of each day make up for what it lacks; if too little is over, days lack alike."""
    _, over = dry_and_over
    today = {day: {one: {day: safe[one].get(day, 0.0)} for one in names} for day in lacks}
    left = {day: kilograms for day, kilograms in lacks.items()
            if any(is_some(one[day]) for one in today[day].values())}  # fmt: skip
    for stays in (evened(left, sum(over[one] for one in names)), 0.0):
        for day, lack in left.items():
            if lack > stays:
                left[day] -= _make_up(safe, today[day], day, lack - stays, dry_and_over)


def _make_up(
    safe: Asked,
    hay: Asked,
    day: date,
    lack: float,
    dry_and_over: tuple[dict[str, float], dict[str, float]],
) -> float:
    """Let the hay of a day make up for what is held back on it, as far as there is more of it.

    The hay that would run out first is taken first, so that the others share what is then left.
    Return what is so made up. [kg]
    """
    dry, over = dry_and_over
    found = 0.0
    parts = {one: hay[one].get(day, 0.0) * dry[one] for one in hay}
    parts = {one: kilograms for one, kilograms in parts.items() if is_some(kilograms)}
    for one in sorted(parts, key=lambda one: over[one] / parts[one]):
        more = min(over[one], (lack - found) * parts[one] / sum(parts.values()))
        safe[one][day] = safe[one].get(day, 0.0) + more / dry[one]
        over[one] -= more
        found += more
        del parts[one]
    return found


def _fill(
    safe: Asked,
    hay: Asked,
    days: list[date],
    held: dict[date, float],
    dry: dict[str, float],
) -> dict[date, float]:
    """Let the hay of some days make up for what is held back on them, and give way later.

    Return what is then still missing on each day.
    """
    whole = {day: sum(hay[one].get(day, 0.0) * dry[one] for one in hay) for day in days}
    change = {
        day: max(held[day], -(1.0 - LEAST_OF_HAY) * kilograms)
        for day, kilograms in whole.items()
        if is_some(kilograms)
    }
    more = sum(max(0.0, one) for one in change.values())
    less = sum(max(0.0, -one) for one in change.values())
    lacks = {}
    for day, kilograms in change.items():
        side = more if is_some(kilograms) else less
        moved = kilograms * min(more, less) / side if is_some(side) else 0.0
        for one in hay:
            safe[one][day] = hay[one].get(day, 0.0) * (whole[day] + moved) / whole[day]
        lacks[day] = max(0.0, kilograms - moved)
    return lacks


def _climbs(
    means: dict[int, float],
    weeks: dict[int, list[date]],
    order: list[int],
    free: dict[int, float],
    pace: tuple[int, float, float],
) -> dict[date, float]:
    """Return a feed that climbs day by day, the mean of each period kept if steps allow it."""
    over, most, level = pace
    by_day = [(day, means[period]) for period in order for day in weeks[period]]
    begun, line, number = level, {}, 0
    for period in order:
        days, mean = weeks[period], means[period]
        ahead = max(kilograms for _, kilograms in by_day[number : number + over + 1])
        number += len(days)
        if not is_over(mean - level, free[period]):
            line.update(dict.fromkeys(days, mean))
            level = begun = mean
            continue
        step = min((ahead - begun) / over, most)
        top = min(_top(level, mean, len(days), step), ahead)
        for at, day in enumerate(days, start=1):
            line[day] = min(level + step * at, top)
        level = line[days[-1]]
        if len(days) > 1 and level - line[days[-2]] < 1e-9:
            begun = level  # the rise is over
    return line


def _held_back(
    asked: tuple[dict[int, float], set[date]],
    weeks: dict[int, list[date]],
    order: list[int],
    free: dict[int, float],
    pace: tuple[int, float, float],
) -> dict[date, float]:
    """Return a feed that climbs day by day and is never more than is asked for."""
    over, most, level = pace
    means, closed = asked
    line, begun, goal = {}, level, level
    for period in order:
        for day in weeks[period]:
            wanted = 0.0 if day in closed else means[period]
            if not is_over(wanted - level, free[period]):
                level = begun = goal = wanted
            else:
                if wanted > goal * (1.0 + 1e-9):
                    begun, goal = level, wanted
                level = min(wanted, level + min((goal - begun) / over, most))
            line[day] = level
    return line


def _top(level: float, mean: float, count: int, step: float) -> float:
    """Return the height at which a rise ends so that its mean is right, by halving the interval."""
    line = [level + step * at for at in range(1, count + 1)]
    most = max(mean, line[-1])
    return _halved(mean, most, lambda top: sum(min(one, top) for one in line) < mean * count)


def _new_hays(
    farm: Farm, group: Group, here: dict[str, float], before: dict[str, float] | None
) -> set[str]:
    if group.change_over_days is None or before is None:
        return set()
    return {one for one in here if is_hay(farm, one) and not is_some(before.get(one, 0.0))}


def _parts(
    here: dict[str, float], new: set[str], dry: dict[str, float], over: int, days: int
) -> dict[str, list[float]]:
    """Return the part of a period's amount of each source that falls on each of its days.

    ``dry`` is the dry matter of each hay, by which new and old are weighed against each other.
    """
    even = {one: [1.0 / days] * days for one in here}
    hay = {one: here[one] * dry[one] for one in dry}
    whole, fresh = sum(hay.values()), sum(hay[one] for one in new)
    if not 0.0 < fresh < whole:
        return even
    line = [min(1.0, (number + 1) / over) for number in range(days)]
    share = _to_mean(line, fresh / whole)
    for one in hay:
        mine = share if one in new else [1.0 - part for part in share]
        even[one] = [part / sum(mine) for part in mine]
    return even


def _to_mean(line: list[float], mean: float) -> list[float]:
    """Stretch a line, cut off at one, until its mean is so, by halving the interval."""
    whole = mean * len(line)
    times = _halved(
        0.0, 1.0 / line[0], lambda times: sum(min(1.0, times * one) for one in line) < whole
    )
    return [min(1.0, times * one) for one in line]


def _halved(low: float, high: float, is_low: Callable[[float], bool]) -> float:
    """Halve an interval until nothing lies between its ends, and return the upper one."""
    while low < (middle := (low + high) / 2.0) < high:
        low, high = (middle, high) if is_low(middle) else (low, middle)
    return high


#: Amounts must agree to this, kg of dry matter per head and day.
NEAR_KG: Final = 1e-5


def change_breaches(program: SeasonProgram, farm: Farm) -> Iterator[Breach]:
    """Yield where more hay is new than a group's days of change allow, and nothing says so."""
    if any(feed.kind is FeedKind.GRAZING for feed in farm.feeds):
        return
    told = {
        (row.group_id, row.period): row for row in program.needs if row.nutrient == "change_over"
    }
    for group in farm.groups:
        at_once = farm.season.hays_at_once
        if group.hays_at_once is not None:
            at_once = group.hays_at_once
        # One hay at a time leaves nothing to mix it with.
        if at_once != 1 and group.change_over_days is not None and group.change_over_days > 1:
            yield from _of_group(program, farm, group, group.change_over_days, told)


def _of_group(
    program: SeasonProgram,
    farm: Farm,
    group: Group,
    over: int,
    told: dict[tuple[str, int], NeedRow],
) -> Iterator[Breach]:
    eaten: dict[int, dict[str, float]] = defaultdict(dict)
    for row in program.feeding:
        if row.group_id == group.group_id and is_hay(farm, row.source_id):
            eaten[row.period][row.source_id] = row.eaten_kg_dm_per_head_day
    days: dict[int, int] = defaultdict(int)
    for period in days_here(program, group).values():
        days[period] += 1
    for period in sorted(days):
        if period - 1 not in days:
            continue
        line = [min(1.0, number / over) for number in range(1, days[period] + 1)]
        most = sum(line) / len(line) * sum(eaten[period].values())
        before = eaten[period - 1]
        new = sum(
            max(0.0, kilograms - before.get(one, 0.0)) for one, kilograms in eaten[period].items()
        )
        where = f"{group.name}, new hay in period {period}"
        claim = told.get((group.group_id, period))
        if claim is None:
            yield Breach(f"{where}, row", 0.0, most)
            continue
        for what, claimed, found in (
            ("may be", claim.need, most),
            ("is", claim.supplied, new),
            ("too much", claim.shortage, max(0.0, new - most)),
        ):
            if is_some(abs(claimed - found) - NEAR_KG * max(1.0, most)):
                yield Breach(f"{where}, {what}", claimed, found)
