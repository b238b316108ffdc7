"""Where a group's hay changes or its grain is raised, and how to go about it day by day."""

from __future__ import annotations

from collections.abc import Container, Iterator
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.animals import HORSES
from rickyard.display import display_for, listed, number_text
from rickyard.evidence import COMMON_PRACTICE
from rickyard.farm import Caution, Farm, Feed, Package
from rickyard.program.days import GroupDays, free_step_kg, hay_ids, only_mixed
from rickyard.program.inputs import cautioned, daily_before_kg
from rickyard.program.problem import OneFeed, day_shares, days_of_change
from rickyard.program.result import ChangeOver, SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import bindings, npn_of
from rickyard.types import FloatArray

#: Cattle, sheep and goats: five to seven days. Common practice, no published source.
RUMINANT_DAYS: Final = 7

#: Horses: seven to ten days for hay, common practice; ten to fourteen to baleage.
HORSE_DAYS: Final = 10
HORSE_BALEAGE_DAYS: Final = 14

#: Diets that differ by more than this are changed over five to seven days. Common practice.
CHANGE_POINTS: Final = 3.0

#: A new hay that is less than this share of the day's hay changes nothing worth a list.
LEAST_SHARE: Final = 0.1

BALEAGE_SOURCE: Final = "UGA/UMN (Martinson & Hancock 2019)"


def change_overs(
    program: SeasonProgram, farm: Farm, everybody: list[GroupDays]
) -> tuple[ChangeOver, ...]:
    """Return every change of hay that wants mixing, and every feed that is raised by degrees."""
    found: list[ChangeOver] = []
    for days in everybody:
        found += _Changes(program, farm, days).hays()
        for feed in farm.feeds:
            if feed.feed_id in days.raised:
                found += _raises(farm, feed, days)
    return tuple(sorted(found, key=lambda one: one.start))


class _Changes:
    """The changes of one group's hay."""

    def __init__(self, program: SeasonProgram, farm: Farm, days: GroupDays) -> None:
        self.farm, self.days = farm, days
        self.value = {one.source_id: one for one in program.sources}
        hays = hay_ids(farm)
        self.asked = {
            one: kg * self.value[one].dm_pct / 100.0
            for one, kg in days.asked.items()
            if one in hays
        }
        self.limited = only_mixed(program, days.group.group_id)
        self.baleage = {lot.lot_id for lot in farm.lots if lot.package is Package.BALEAGE}

    def hays(self) -> Iterator[ChangeOver]:
        period = self.days.period
        for number in np.unique(period)[1:].tolist():
            now, before = np.flatnonzero(period == number), np.flatnonzero(period == number - 1)
            if not len(before):
                continue
            here = {one: float(kg[now].sum()) for one, kg in self.asked.items()}
            old = {one: float(kg[before].sum()) for one, kg in self.asked.items()}
            old = {one: kg for one, kg in old.items() if is_some(kg)}
            whole = sum(here.values())
            for one, kg in here.items():
                if old and one not in old and kg > LEAST_SHARE * whole:
                    change = self._change(one, old, here, int(now[0]))
                    if change is not None:
                        yield change

    def _change(
        self, new: str, old: dict[str, float], here: dict[str, float], first: int
    ) -> ChangeOver | None:
        share = here[new] / sum(here.values())
        over, source = self._days(new, old)
        if over is None:
            return None
        group, start = self.days.group, self.days.day(first)
        mixed = self._is_in_a_mix(new, here)
        planned = mixed or days_of_change(self.farm, group) is not None
        shares = (
            self._planned_shares(new, first, over) if planned else share * day_shares(over, over)
        )
        return ChangeOver(
            group_id=group.group_id,
            from_sources=tuple(old),
            to_source=new,
            start=start,
            days=over,
            shares=tuple(shares.tolist()),
            in_program=planned,
            sentence=self._sentence(new, given_up(old, here), over, start, here, mixed=mixed),
            source=source,
        )

    def _is_in_a_mix(self, new: str, here: dict[str, float]) -> bool:
        """Return whether a new hay thins others in a mix, of which it then cannot be held back.

        Horses, whom nitrate hurts least and a sudden change most, change by degrees all the same.
        """
        beside = any(is_some(kg) for one, kg in here.items() if one != new)
        ruminants = self.days.group.animal_class not in HORSES
        poison = any(is_some(here.get(one, 0.0)) for one in self.limited)
        return ruminants and beside and poison and new in self.days.weighed

    def _days(self, new: str, old: dict[str, float]) -> tuple[int | None, str]:
        """Return over how many days to change and by whose advice; ``None`` where at once."""
        horses = self.days.group.animal_class in HORSES
        to_baleage = horses and new in self.baleage
        source = BALEAGE_SOURCE if to_baleage else COMMON_PRACTICE
        asked = self.days.group.change_over_days
        if asked is not None:
            return (asked if asked > 1 else None), source
        if horses:
            return HORSE_BALEAGE_DAYS if to_baleage else HORSE_DAYS, source
        slowly = self._differ(new, old) or new in self.days.weighed
        return (RUMINANT_DAYS if slowly else None), source

    def _differ(self, new: str, old: dict[str, float]) -> bool:
        """Return whether TDN or protein of the new hay is more than three points off the old."""
        whole = sum(old.values())
        return any(
            abs(
                getattr(self.value[new], name)
                - sum(kg * getattr(self.value[one], name) for one, kg in old.items()) / whole
            )
            > CHANGE_POINTS
            for name in ("tdn_pct", "cp_pct")
        )

    def _planned_shares(self, new: str, first: int, over: int) -> FloatArray:
        days = slice(first, first + over)
        whole = sum((kg[days] for kg in self.asked.values()), np.zeros(1))
        return np.divide(
            self.asked[new][days], whole, out=np.zeros(len(whole)), where=is_some(whole)
        )

    def _sentence(
        self,
        new: str,
        old: dict[str, float],
        over: int,
        start: date,
        here: dict[str, float],
        *,
        mixed: bool = False,
    ) -> str:
        group, name = self.days.group, self.value[new].name
        before = listed([self.value[one].name for one in old])
        on = display_for(self.farm.units).day_text(start)
        opening = f"{group.name} change from {before} to {name} on {on}"
        if mixed:
            if all(is_some(here.get(one, 0.0)) for one in old):
                opening = f"{group.name} get {name} too from {on}"
            return (
                f"{opening}, as part of a mix that is weighed for its nitrate: feed each hay as it "
                "is listed, and never more of another in place of it."
            )
        if days_of_change(self.farm, group) is not None:
            return f"{opening}: mix it in over {over} days; the amounts allow for it."
        opening = f"{opening}: mix it in over {over} days, a little more every day."
        if group.change_over_days is not None:
            return (
                f"{opening} The program feeds one hay at a time: hold some of the old hay back for "
                "it."
            )
        beside = self._side_by_side(new, old, start, over) if self._in_bales(new, old) else ""
        if beside:
            return (
                f"{opening} {beside} The list has one after the other, and mixes them where the "
                f"group has {over} days for a change of hay."
            )
        return (
            f"{opening} The program does not plan that: hold old hay back, or give the group "
            f"{over} days for a change of hay."
        )

    def _in_bales(self, new: str, old: dict[str, float]) -> bool:
        """Return whether both hays lie before the group in bales."""
        return all(
            self.value[one].bale_weight_kg is not None
            and one not in self.days.weighed | self.days.forked
            for one in (new, *old)
        )

    def _side_by_side(self, new: str, old: dict[str, float], start: date, over: int) -> str:
        """Say how many bales of both hays lie out at once, and when; nothing where neither may.

        A share that rises evenly over the days around the change has an eighth of them worth of
        new hay before it; one that rises all before or all after it, half of them worth.
        """
        day = display_for(self.farm.units).day_text
        half, value = timedelta(days=over // 2), self.value[new]
        first, last = start - half, start + half
        early = self._may_lie(new, first, start)
        late = all(self._may_lie(one, start, last + timedelta(days=1)) for one in old)
        at = (start - self.days.first).days
        kg = float(self.asked[new][at]) / (value.dm_pct / 100.0)
        worth = kg * over / (value.bale_weight_kg or 1.0)
        before = listed([self.value[one].name for one in old])
        if early and late:
            return (
                f"Put bales of both out side by side from {day(first)} to {day(last)}: about "
                f"{max(1, round(worth / 8.0))} of {value.name} before {day(start)} in place of "
                f"{before}, and of that as many after it."
            )
        if late:
            return (
                f"Put bales of both out side by side until {day(last)}: keep about "
                f"{max(1, round(worth / 4.0))} of {before} for it."
            )
        if early:
            return (
                f"Put bales of both out side by side from {day(first)}: about "
                f"{max(1, round(worth / 4.0))} of {value.name} before {day(start)}, and none of "
                f"{before} from then on."
            )
        return ""

    def _may_lie(self, source_id: str, first: date, end: date) -> bool:
        """Say whether a hay may lie before the group from a day to before another."""
        lots = (lot for lot in self.farm.lots if lot.lot_id == source_id)
        held = any(
            one.rule.demand in ("none", "share")
            and one.spans
            and one.holds(first, (end - first).days)
            for one in bindings(self.farm)
            if (one.group_id, one.source_id) == (self.days.group.group_id, source_id)
        )
        last = end - timedelta(days=1)
        return not held and all(
            (lot.feed_from or first) <= first and last <= (lot.feed_by or last) for lot in lots
        )


def given_up(old: dict[str, float], here: dict[str, float]) -> dict[str, float]:
    """Return the hays that a new one takes the place of: those that go on are no change."""
    gone = {one: kg for one, kg in old.items() if not here.get(one)}
    return gone or {one: kg for one, kg in old.items() if here[one] < kg} or old


def _care(feed: Feed) -> str:
    danger = "Too much too fast causes acidosis and can kill."
    if is_some(npn_of(feed)):
        danger = "Its urea can kill when too much is eaten at once."
    return (
        "a little more every day; fill them on safe hay until then, beyond the list where it "
        f"leaves them hungry. {danger} Stop and call a veterinarian if they go off feed, scour or "
        "bloat."
    )


def _raises(farm: Farm, feed: Feed, days: GroupDays) -> Iterator[ChangeOver]:
    """Yield each span in which a feed climbs by more than may be given at once."""
    head = max(days.group.head, 1)
    given = OneFeed.of(farm).together(days.asked)[feed.feed_id] / head
    before = np.concatenate([[daily_before_kg(farm, days.group, feed.feed_id)], given[:-1]])
    rising = given > before * (1.0 + 1e-9) + 1e-9
    starts = np.flatnonzero(rising & ~np.concatenate([[False], rising[:-1]]))
    display = display_for(farm.units)
    told = False
    for first in starts.tolist():
        level = np.flatnonzero(~rising[first:])
        count = int(level[0]) if len(level) else len(given) - first
        span = slice(first, first + count)
        was, top = float(before[first]), float(given[span][-1])
        free = 0.0 if is_some(npn_of(feed)) else free_step_kg(float(days.weight_kg[first]))
        if top - was <= free * (1.0 + 1e-6):
            continue
        start = days.day(first)
        opening = (
            f"Step up {feed.name} for {days.group.name} over {count} days from "
            f"{display.day_text(start)}, {number_text(display.mass(was))} to "
            f"{display.mass_text(top)} a head"
        )
        yield ChangeOver(
            group_id=days.group.group_id,
            from_sources=(),
            to_source=feed.feed_id,
            start=start,
            days=count,
            shares=tuple((given[span] / top).tolist()),
            in_program=True,
            sentence=f"{opening}, with the same care." if told else f"{opening}, {_care(feed)}",
            source=COMMON_PRACTICE,
        )
        told = True


def diet_changes(
    program: SeasonProgram,
    farm: Farm,
    days: Container[date] | None = None,
    groups: Container[str] | None = None,
) -> Iterator[tuple[str, date, str]]:
    """Yield where the diet of a group changes much that no change of hay or rise tells of.

    Parameters
    ----------
    program : SeasonProgram
        Its feeding, and the changes of hay and rises that are told already.
    farm : Farm
        Its groups, and how days are written.
    days : container of date, optional
        Only the changes that begin on these; unless given, all of the season.
    groups : container of str, optional
        The ids of the groups that are asked for; unless given, all.

    Yields
    ------
    tuple of (str, date, str)
        The group, the first day of the new diet, and which feeds come and go on it.
    """
    values = {one.source_id: one for one in program.sources}
    told = {(one.group_id, one.start) for one in program.change_overs}
    for group in farm.groups:
        if groups is not None and group.group_id not in groups:
            continue
        diets: dict[int, dict[str, float]] = {}
        for row in program.feeding:
            if row.group_id == group.group_id and is_some(row.eaten_kg_dm_per_head_day):
                diets.setdefault(row.period, {})[row.source_id] = row.eaten_kg_dm_per_head_day
        for period in sorted(diets):
            start = program.periods[period].start
            if days is not None and start not in days:
                continue
            until = start + timedelta(days=program.periods[period].days)
            if period - 1 not in diets or any(
                one == group.group_id and start <= day < until for one, day in told
            ):
                continue
            before, now = _parts(diets[period - 1]), _parts(diets[period])
            risen = {
                one: now.get(one, 0.0) - before.get(one, 0.0)
                for one in dict.fromkeys([*before, *now])
            }
            if any(
                abs(sum(part * getattr(values[one], name) for one, part in risen.items()))
                > CHANGE_POINTS
                for name in ("tdn_pct", "cp_pct")
            ):
                more, less = max(risen, key=risen.__getitem__), min(risen, key=risen.__getitem__)
                what = f"less {values[less].name}, more {values[more].name}"
                day = display_for(farm.units).day_text(start)
                yield group.group_id, start, f"{day} ({what})"


def _parts(diet: dict[str, float]) -> dict[str, float]:
    whole = sum(diet.values())
    return {one: kg / whole for one, kg in diet.items()}


def change_cautions(
    program: SeasonProgram,
    farm: Farm,
    days: Container[date] | None = None,
    groups: Container[str] | None = None,
) -> tuple[Caution, ...]:
    """Return what to do where the diet changes much, once for each group.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        Its groups.
    days : container of date, optional
        Only the changes that begin on these; unless given, all of the season.
    groups : container of str, optional
        The ids of the groups that are asked for; unless given, all.

    Returns
    -------
    tuple of Caution
        Each about its group, with the days and the feeds.
    """
    found: dict[str, list[str]] = {}
    for group_id, _, what in diet_changes(program, farm, days, groups):
        found.setdefault(group_id, []).append(what)
    return tuple(
        cautioned(
            "diet_changes",
            one,
            group=farm.group(one).name,
            points=CHANGE_POINTS,
            when=listed(what),
        )
        for one, what in found.items()
    )
