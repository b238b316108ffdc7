"""A second look at the nitrate of what a group eats and drinks on each day of the list."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Final, Protocol

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.result import SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import Binding, counts_as_pregnant

#: The most nitrate-nitrogen of the whole diet, Clemson, and what counts where nobody tested a hay
#: that may hold much. [mg/kg DM]
MOST_PPM: Final = 1500.0
MOST_PREGNANT_PPM: Final = 1000.0
UNTESTED_PPM: Final = 4000.0

#: A week so little above its limit keeps it. [mg/kg DM]
ROUNDING_PPM: Final = 0.5

Amounts = dict[str, dict[date, float]]

#: Where no hay is kept for anything but its poison.
NOTHING_LEAST: Final[Amounts] = {}

#: Lets some hays make up for what days lack, as far as they are over.
MakeUp = Callable[
    [Amounts, list[str], dict[date, float], tuple[dict[str, float], dict[str, float]]], None
]


class StandsIn(Protocol):
    """Other hay, of which some may be new to a group on a day."""

    def first(self, day: date) -> str | None:
        """Return the first that may stand in on a day, nothing where no more may."""

    def fill(self, safe: Amounts, lacks: dict[date, float]) -> None:
        """Put out what days lack of dry matter, as far as it may be. [kg]."""


@dataclass(frozen=True)
class NitrateOfDays:
    """What one group may eat and drink: ``most`` by day [mg/kg], ``drunk`` by day [mg]."""

    ppm: dict[str, float]
    eaten: dict[str, float]
    most: dict[date, float]
    drunk: dict[date, float]

    @property
    def strong(self) -> set[str]:
        """Return the sources that hold more than the diet may."""
        least = min(self.most.values())
        return {one for one, ppm in self.ppm.items() if ppm > least}

    def excess(self, source_id: str, kg_dm: float, day: date) -> float:
        """Return the nitrate of a source above what its dry matter may hold. [mg]."""
        return kg_dm * self.eaten.get(source_id, 1.0) * (self.ppm[source_id] - self.most[day])

    def excess_of(self, amounts: Amounts, dry: dict[str, float], day: date) -> float:
        """Return the excess of all that is eaten and drunk on a day. [mg]."""
        fed = (self.excess(one, days.get(day, 0.0) * dry[one], day)
               for one, days in amounts.items())  # fmt: skip
        return self.drunk[day] + sum(fed)


def nitrate_of_days(
    program: SeasonProgram,
    farm: Farm,
    group: Group,
    mine: list[Binding],
    weeks: dict[int, list[date]],
) -> NitrateOfDays | None:
    """Return the nitrate of a group's days, ``None`` where it is begun on no hay with nitrate.

    ``mine`` are the rules that bind on the group.
    """
    if not any(one.rule.demand == "begin" for one in mine):
        return None
    ppm = {one.source_id: one.nitrate_no3n_ppm or 0.0 for one in program.sources}
    tested = dict(ppm)
    for one in mine:
        if (one.rule.hazard, one.rule.known) == ("nitrate", "unknown"):
            ppm[one.source_id] = max(UNTESTED_PPM, ppm.get(one.source_id, 0.0))
    usual = MOST_PREGNANT_PPM if counts_as_pregnant(group, farm) else MOST_PPM
    fed: dict[int, dict[str, tuple[float, float]]] = defaultdict(dict)
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    for row in program.feeding:
        if row.group_id == group.group_id and is_some(row.offered_kg):
            out = row.offered_kg * dry[row.source_id]
            fed[row.period][row.source_id] = (row.eaten_kg_dm_per_head_day, out)
    told = {
        one.period: (one.need, one.supplied)
        for one in program.needs
        if one.group_id == group.group_id and one.nutrient == "nitrate"
    }
    found = NitrateOfDays(ppm, {}, {}, {})
    for period, days in weeks.items():
        head_days = len(days) * max(1, group.head)
        for source_id, (eats, out) in fed[period].items():
            found.eaten[source_id] = min(1.0, eats * head_days / out)
        whole = sum(eats for eats, _ in fed[period].values())
        most, drunk = usual, 0.0
        if period in told and is_some(whole):
            limit, got = told[period]
            most = min(usual, limit / whole)
            of_feed = sum(eats * tested[one] for one, (eats, _) in fed[period].items())
            drunk = max(0.0, got - of_feed) * group.head
        found.most.update(dict.fromkeys(days, most))
        found.drunk.update(dict.fromkeys(days, drunk))
    return found


#: Of the forage of a day so much is hay without nitrate where hay with it begins. Judgement. [-]
SAFE_PART: Final = 1.0 / 3.0

#: So much of the ration may be missing on the days on which it begins. Judgement. [-]
MISSING_PART: Final = 0.1


def above_two_thirds(
    safe: Amounts,
    asked: Amounts,
    mixed: list[str],
    hays: list[str],
    known: tuple[dict[str, float], dict[str, float], list[tuple[list[date], set[str]]]],
) -> dict[date, float]:
    """Cut hay with nitrate to what it may be of the forage of each day, no lower than asked for.

    It is cut as far as other hay that is over, and a tenth of the ration of the days on which it
    begins, stand for what is cut. ``known`` is the dry matter of each source, what is over, and
    the days of each week with the hay that stands in on all of them. Return the dry matter that is
    so left out of each day.
    """
    dry, over, weeks = known
    cut, used = {}, 0.0
    for week, others in weeks:
        mean = {day: sum(asked[one].get(day, 0.0) * dry[one] for one in mixed) for day in week}
        given = {day: sum(safe[one].get(day, 0.0) * dry[one] for one in mixed) for day in week}
        excess = {}
        for day in week:
            forage = mean[day] + sum(asked[one].get(day, 0.0) * dry[one] for one in hays)
            excess[day] = max(0.0, given[day] - max(mean[day], (1.0 - SAFE_PART) * forage))
        first = [day for day in week if given[day] < mean[day]]
        missing = sum(days.get(day, 0.0) * dry[one] for one, days in asked.items() for day in first)
        stand = {one for one in hays if any(asked[one].get(day) for day in week)} | others
        there = sum(over[one] for one in stand) - used
        used += min(there, sum(excess.values()))
        stays = _level(list(excess.values()), there + MISSING_PART * missing)
        for day, more in excess.items():
            if not is_some(more - stays - 1e-9):
                continue
            keeps = (given[day] - mean[day] - more + stays) / (given[day] - mean[day])
            for one in mixed:
                level = asked[one].get(day, 0.0)
                safe[one][day] = level + (safe[one].get(day, 0.0) - level) * keeps
            cut[day] = more - stays
    return cut


def _level(heights: list[float], whole: float) -> float:
    """Return the level above which the heights hold no more than a whole.

    Examples
    --------
    >>> _level([4.0, 1.0], 2.0)
    2.0
    """
    level, left = max(heights, default=0.0), whole
    for number, (high, low) in enumerate(pairwise([*sorted(heights, reverse=True), 0.0]), start=1):
        step = min(high - low, left / number)
        level, left = level - step, left - step * number
    return level


def lowered(
    nitrate: NitrateOfDays,
    safe: Amounts,
    asked: Amounts,
    hays: Collection[str],
    begun: Collection[str],
    known: tuple[dict[str, float], float],
) -> dict[date, float]:
    """Lower hay that begins on the days that it would take above the limit, and its mean no lower.

    ``known`` is the dry matter of a kilogram of each source and the part of the other hay that can
    give way. Return the dry matter left out of each day. [kg]
    """
    dry, gives = known
    left_out = {}
    for day in nitrate.most:
        more = {one: (safe[one].get(day, 0.0) - asked[one].get(day, 0.0)) * dry[one]
                for one in begun}  # fmt: skip
        rise = sum(more.values())
        other = {one: asked[one].get(day, 0.0) * dry[one] for one in hays}
        way = min(rise, gives * sum(other.values())) / sum(other.values()) if any(
            other.values()) else 0.0  # fmt: skip
        slope = sum(nitrate.excess(one, kg, day) for one, kg in more.items())
        slope -= way * sum(nitrate.excess(one, kg, day) for one, kg in other.items())
        room = max(0.0, -nitrate.excess_of(asked, dry, day))
        if rise <= 0.0 or slope <= room:
            continue
        for one, kg in more.items():
            safe[one][day] = asked[one].get(day, 0.0) + kg / dry[one] * room / slope
        left_out[day] = rise * (1.0 - room / slope)
    return left_out


def _cut_to_limit(
    nitrate: NitrateOfDays,
    safe: Amounts,
    asked: Amounts,
    dry: dict[str, float],
    others: Collection[str],
    first_of: Callable[[date], str | None],
) -> dict[date, float]:
    """Cut hay with nitrate on days that are above a limit that their period keeps.

    ``others`` is the hay that stands in for it by its parts of the day, and where there is none of
    it the first that may. Return the dry matter left out of each day. [kg]
    """
    left_out, stronger = {}, nitrate.strong
    strong = [one for one in safe if one in stronger]
    for day, most in nitrate.most.items():
        above = nitrate.excess_of(safe, dry, day)
        if above <= 0.0:
            continue
        mean = sum(days.get(day, 0.0) * dry[one] for one, days in asked.items())
        held = {one: safe[one].get(day, 0.0) * dry[one] for one in strong}
        excess = sum(nitrate.excess(one, kg, day) for one, kg in held.items())
        kept_by_week = nitrate.excess_of(asked, dry, day) <= ROUNDING_PPM * mean
        if excess <= 0.0 or not kept_by_week or not most:
            continue
        beside = {one: safe[one].get(day, 0.0) * dry[one] for one in others}
        first = first_of(day)
        if first is not None and not is_some(sum(beside.values())):
            beside = {first: 1.0}
        frees = -sum(nitrate.excess(one, kg, day) for one, kg in beside.items())
        frees *= sum(held.values()) / (sum(beside.values()) or 1.0)
        keeps = max(0.0, 1.0 - above / (excess + frees))
        for one in strong:
            if day in safe[one]:
                safe[one][day] *= keeps
        left_out[day] = (1.0 - keeps) * sum(held.values())
    return left_out


def held_to_limit(
    nitrate: NitrateOfDays | None,
    safe: Amounts,
    asked: Amounts,
    hays: Collection[str],
    dry_and_over: tuple[dict[str, float], dict[str, float]],
    make_up: MakeUp,
    stands: StandsIn,
) -> None:
    """Take hay with nitrate off days that are above the limit, and let other hay make up for it.

    It is cut first as if other hay stood in for all of it, then by what there was of that.
    """
    if nitrate is None:
        return
    dry, over = dry_and_over
    strong = nitrate.strong
    others = [one for one in hays if one not in strong]
    beside = [one for one in others if is_some(over[one])]
    cut = _cut_to_limit(nitrate, safe, asked, dry, beside, stands.first)
    cut = dict(sorted(cut.items()))
    was = {day: _sum_of(safe, others, dry, day) for day in cut}
    make_up(safe, others, cut, dry_and_over)
    stands.fill(
        safe, {day: kg - _sum_of(safe, others, dry, day) + was[day] for day, kg in cut.items()}
    )
    cut = _cut_to_limit(nitrate, safe, asked, dry, [], lambda _: None)
    make_up(safe, others, dict(sorted(cut.items())), dry_and_over)


def _sum_of(amounts: Amounts, names: Collection[str], dry: dict[str, float], day: date) -> float:
    """Return the dry matter of some sources on a day. [kg]."""
    return sum(amounts[one].get(day, 0.0) * dry[one] for one in names)


def most_parts(
    asked: Amounts,
    safe: Amounts,
    mine: list[Binding],
    eats: dict[str, float],
    known: Collection[str],
    forage: Collection[str] = (),
) -> Amounts:
    """Return the largest part of each day that hay may be which is mixed or begun low.

    Hay that needs other beside it may be its part of what is ``forage`` of the day.

    ``eats`` is the dry matter eaten of a kilogram of each source, and ``known`` what the group was
    fed before. A third on the first three days, two thirds on the next: what the program itself
    asks for above its limit is told elsewhere. Hays of one limit keep their parts of it.
    """
    found: Amounts = {}
    days = sorted({day for amounts in asked.values() for day in amounts})
    whole = {day: sum(kg.get(day, 0.0) * eats[one] for one, kg in asked.items()) for day in days}
    begun = {one.source_id for one in mine if one.rule.demand == "begin"}
    limits = {(one.source_id, one.rule.together, one.rule.amount or 0.0)
              for one in mine if one.rule.mixed and one.source_id in safe}  # fmt: skip
    besides = {(one.source_id, one.rule.together, one.rule.amount or 0.0)
               for one in mine if one.rule.demand == "mix" and one.source_id in safe}  # fmt: skip
    for source_id in (begun | {one for one, _, _ in limits | besides}) & safe.keys():
        count = BEGUN_DAYS if source_id in known else 0
        for day in days:
            kg = safe[source_id].get(day, 0.0)
            count = count + 1 if is_some(kg) else 0
            if not is_some(kg):
                continue
            limit = 1.0
            for name, kind, percent in limits | besides:
                if name == source_id:
                    kin = {other for other, same, _ in limits | besides if same == kind}
                    both = sum(safe[one].get(day, 0.0) * eats[one] for one in kin)
                    part = percent / 100.0 * kg * eats[source_id] / both
                    if (name, kind, percent) in besides:
                        part *= _part_of_day(safe, forage, eats, day)
                    limit = min(limit, part)
            mean = asked[source_id].get(day, 0.0) * eats[source_id]
            part = mean / whole[day] if is_some(whole[day]) else 0.0
            low = thirds(count) if source_id in begun else 1.0
            found.setdefault(source_id, {})[day] = low * max(limit, part)
    return found


def _part_of_day(safe: Amounts, some: Collection[str], eats: dict[str, float], day: date) -> float:
    """Return which part of a day some of its sources are."""
    each = {one: kg.get(day, 0.0) * eats[one] for one, kg in safe.items()}
    whole = sum(each.values())
    return sum(each[one] for one in some if one in each) / whole if is_some(whole) else 1.0


def held_to_rules(
    safe: Amounts,
    asked: Amounts,
    known: tuple[list[str], list[Binding], frozenset[str], Farm],
    eaten: dict[str, float],
    dry_and_over: tuple[dict[str, float], dict[str, float]],
    make_up: MakeUp,
) -> list[str]:
    """Take hay off days of which it would be too large a part; return the hays with no such part.

    ``known`` are the hays, the rules that bind on the group, what it was fed before, and the farm;
    ``eaten`` which part is eaten of what is put out.
    """
    hays, mine, fed_before, farm = known
    dry, _ = dry_and_over
    meals = {one.feed_id for one in farm.feeds
             if one.kind not in (FeedKind.FORAGE, FeedKind.GRAZING)}  # fmt: skip
    forage = safe.keys() - meals
    for eats in ({one: dry[one] * eaten.get(one, 1.0) for one in safe}, dry):
        parts = most_parts(asked, safe, mine, eats, fed_before, forage)
        poisons = {one.source_id for one in mine if one.rule.demand in ("share", "begin")}
        least = {one: asked.get(one, {}) for one in parts.keys() - poisons}
        held_to_parts(parts, safe, hays, eats, dry_and_over, make_up, least)
    packs = {one.source_id for one in mine if one.rule.demand == "mix"}
    return [one for one in hays if one not in packs]


#: So many days hay with nitrate is begun on.
BEGUN_DAYS: Final = 6


def thirds(day: int) -> float:
    """Return which part of its share hay may be on a day since it began, from 1.

    Examples
    --------
    >>> [round(thirds(day), 2) for day in (0, 1, 3, 4, 7, 8)]
    [0.33, 0.33, 0.33, 0.67, 1.0, 1.0]
    """
    return min(3, 1 + max(0, day - 1) // 3) / 3.0


#: Shares of a day are cut anew so often at most, and as little is nothing. [kg DM]
ROUNDS: Final = 200
ROUNDING_KG: Final = 1e-9


def held_to_parts(
    most: Amounts,
    safe: Amounts,
    hays: Collection[str],
    eats: dict[str, float],
    dry_and_over: tuple[dict[str, float], dict[str, float]],
    make_up: MakeUp,
    least: Amounts = NOTHING_LEAST,
) -> None:
    """Take hay off days of which it would be too large a part, and let other hay make up for it.

    It is cut first as if other hay stood in for all of it, then until all that is left is within
    its part of what is left. Hay that is ``least`` so much is cut only as far: it is
    no poison, and nobody goes hungry for it.
    """
    dry, _ = dry_and_over
    others = [one for one in hays if one not in most]
    days = sorted({day for limits in most.values() for day in limits})
    cut = {
        day: [one for one in most if day in most[one] and is_some(safe[one].get(day, 0.0))]
        for day in days
    }
    lacks = {day: _cut_to_parts(most, safe, cut[day], eats, dry, day, least) for day in days}
    make_up(safe, others, {day: kg for day, kg in lacks.items() if is_some(kg)}, dry_and_over)
    for day in days:
        for _ in range(ROUNDS):
            if not is_some(_cut_to_parts(most, safe, cut[day], eats, dry, day, least)):
                break


def _cut_to_parts(
    most: Amounts,
    safe: Amounts,
    mine: list[str],
    eats: dict[str, float],
    dry: dict[str, float],
    day: date,
    least: Amounts = NOTHING_LEAST,
) -> float:
    """Cut each hay to its part of a day as it is; return the dry matter left out. [kg]."""
    whole = sum(kg.get(day, 0.0) * eats.get(one, dry[one]) for one, kg in safe.items())
    lack = 0.0
    for one in mine:
        kg, limit = safe[one][day] * eats[one], most[one][day] * whole
        limit = max(limit, least.get(one, {}).get(day, 0.0) * eats[one])
        if kg > limit + ROUNDING_KG:
            safe[one][day] *= limit / kg
            lack += (kg - limit) / eats[one] * dry[one]
    return lack


def by_thirds(
    means: dict[int, float],
    weeks: dict[int, list[date]],
    order: list[int],
    known: bool,
    *,
    held_back: bool,
) -> dict[date, float]:
    """Return a hay that begins with a third, then two thirds, of what it comes to."""
    line, count = {}, BEGUN_DAYS if known else 0
    for period in order:
        days = weeks[period]
        parts = []
        for _ in days:
            count = count + 1 if is_some(means[period]) else 0
            parts.append(thirds(count))
        for part, day in zip(parts, days, strict=True):
            line[day] = means[period] * part * (1.0 if held_back else len(days) / sum(parts))
    return line
