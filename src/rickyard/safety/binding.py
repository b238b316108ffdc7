"""What of the table binds on a farm: which rule, which group, which lot or feed, which days."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

from rickyard.farm import AnimalClass, Farm, FeedKind, Group
from rickyard.safety.found import Found, of_feed, of_lot, of_water
from rickyard.safety.rule import OF_A_SOURCE, Rule, rule_of, rules
from rickyard.safety.whom import (
    Spans,
    births,
    classes_bound,
    days_in_stage,
    gestation_days,
)
from rickyard.stock.herd import lot_sugars

#: So many farms are remembered with what binds on them: it is asked for by every part of a program.
REMEMBERED: Final = 16

#: Where a rule lets so much be fed, a quarter may be for some days. [-]
LIGHT_SHARE: Final = 0.5

#: Hazards of which no warning is light.
NOT_LIGHT: Final = frozenset({"nitrate", "prussic acid"})

#: What is found of the farm's own groups, not of what they are fed.
OF_A_GROUP: Final = "group"


@dataclass(frozen=True, slots=True)
class Binding:
    """A rule that holds between a group and a lot or feed, always or on some days.

    ``source_id`` is empty where it is about the group alone. Each of ``spans`` runs from a first
    day until the day before another; where there are none it holds always.
    """

    rule: Rule
    group_id: str
    source_id: str
    found: Found
    spans: Spans = ()

    def holds(self, start: date, days: int) -> bool:
        """Say whether it holds on any of so many days from ``start``."""
        end = start + timedelta(days=days)
        return not self.spans or any(start < last and first < end for first, last in self.spans)

    @property
    def bars(self) -> bool:
        """Say whether it keeps the source from the group."""
        return self.rule.demand == "none"


def counts_as_pregnant(group: Group, farm: Farm) -> bool:
    """Say whether a group counts as pregnant for a hazard: if one of it is on any day.

    Calving is spread around its date and breeding is not seen at once. A dry dairy cow is in calf
    by her name, whatever day nobody wrote down.

    Parameters
    ----------
    group : Group
        The animals.
    farm : Farm
        The farm, whose season counts.

    Returns
    -------
    bool
        True from the first day on where one of them may be pregnant on any day of the season.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass, Season
    >>> cows = Group("c", "Cows", AnimalClass.COW, 20, 550.0, calving_on=date(2027, 3, 1))
    >>> farm = Farm("F", Season(date(2026, 11, 1), date(2027, 4, 1)), groups=(cows,))
    >>> counts_as_pregnant(cows, farm)
    True
    """
    if group.animal_class is AnimalClass.DRY_DAIRY_COW:
        return True
    half = timedelta(days=(group.calving_spread_days or 0) // 2 + 1)
    carried = timedelta(days=gestation_days(group))
    season = farm.season
    return any(
        day - carried - half < season.end and season.start < day + half for day in births(group)
    )


@lru_cache(maxsize=REMEMBERED)
def bindings(farm: Farm) -> tuple[Binding, ...]:
    """Return every rule that binds a group of a farm, in the order of groups, sources and rules.

    Parameters
    ----------
    farm : Farm
        Its groups, lots, reports, feeds and season are read.

    Returns
    -------
    tuple of Binding
        What a group may not have, may have only a part of, or must be watched for.

    Examples
    --------
    >>> from rickyard.farm import AnimalClass, Feed, FeedKind, Season
    >>> ewes = Group("E", "Ewes", AnimalClass.EWE, 40, 70.0)
    >>> mineral = Feed("M", "Cow mineral", FeedKind.MINERAL, 1.2)
    >>> season = Season(date(2027, 1, 1), date(2027, 3, 1))
    >>> farm = Farm("F", season, groups=(ewes,), feeds=(mineral,))
    >>> [(one.rule.rule_id, one.source_id) for one in bindings(farm) if one.source_id]
    [('copper-unknown', 'M'), ('mineral-small-stock', 'M')]
    """
    found = [(lot.lot_id, of_lot(lot, farm)) for lot in farm.lots]
    found += [(feed.feed_id, of_feed(feed)) for feed in farm.feeds]
    every = [one for _, mine in found for one in mine]
    found.append(("", (Found(OF_A_GROUP), *of_water(farm, every))))
    return _fit_hay_first(
        farm,
        [
            one
            for group in farm.groups
            for of_group in (tuple(_rules_for(group)),)
            for source_id, mine in found
            for one in _of_pair(group, of_group, source_id, mine, farm)
        ],
    )


#: Hay of unknown sugar to horses that founder, where there is none that is fit, and where there is.
UNKNOWN_SUGAR: Final = frozenset({"sugar-hay-unknown", "sugar-hay-bought"})
UNKNOWN_BESIDE_FIT: Final = "sugar-hay-unknown-none"

#: So much hay a day is enough for a horse. [% of body weight] Common practice: 1.5 to 2 %.
ENOUGH_PCT_BW: Final = 2.0


def _fit_hay_first(farm: Farm, bound: list[Binding]) -> tuple[Binding, ...]:
    """Keep hay of unknown sugar from horses that founder where tested hay is there for all of them.

    Where there is not enough of it no horse is starved: the rule then tells it as a danger.
    """
    asked = {one.group_id for one in bound if one.rule.rule_id in UNKNOWN_SUGAR}
    if not asked:
        return tuple(bound)
    barred = {one.source_id for one in bound if one.group_id in asked and one.bars}
    fit = [
        lot
        for lot in farm.lots
        if lot.lot_id not in barred
        and (verdict := lot_sugars(lot, farm)) is not None
        and verdict.light != "red"
    ]
    days = (farm.season.end - farm.season.start).days
    weight = sum(one.head * one.weight_kg for one in farm.groups if one.group_id in asked)
    there = sum(lot.bales * (lot.bale_weight_kg or 0.0) for lot in fit)
    if there < ENOUGH_PCT_BW / 100.0 * weight * days:
        return tuple(bound)
    none = rule_of(UNKNOWN_BESIDE_FIT)
    return tuple(
        replace(one, rule=none, found=replace(one.found, finding=none.finding))
        if one.rule.rule_id in UNKNOWN_SUGAR
        else one
        for one in bound
    )


def may_stand_in(group: Group, farm: Farm) -> tuple[str, ...]:
    """Return the hay of which a group may have up to a quarter of a ration for a few days.

    Parameters
    ----------
    group : Group
        The group.
    farm : Farm
        Its lots, feeds and rules are read.

    Returns
    -------
    tuple of str
        The ids of lots, then of forage that is bought, of which no rule demands more than a
        watchful eye, or a half at most; none with nitrate or prussic acid, known or feared.
    """
    feared = {
        one.source_id
        for one in bindings(farm)
        if one.group_id == group.group_id and not _is_light(one.rule)
    }
    hays = [one.lot_id for one in farm.lots]
    hays += [one.feed_id for one in farm.feeds if one.kind is FeedKind.FORAGE]
    return tuple(one for one in hays if one not in feared)


def _is_light(rule: Rule) -> bool:
    """Say whether a rule lets a quarter of a ration be fed without more ado."""
    half = rule.demand == "share" and not rule.mixed and rule.most_share >= LIGHT_SHARE
    grave = rule.level == "danger" or (rule.level != "note" and rule.hazard in NOT_LIGHT)
    return half or (rule.demand == "keep" and not grave)


def _of_pair(
    group: Group, of_group: Sequence[Rule], source_id: str, found: Sequence[Found], farm: Farm
) -> Iterator[Binding]:
    by_name = {one.finding: one for one in found}
    for rule in of_group:
        one = by_name.get(rule.finding)
        if one is None or not rule.meets(one.value):
            continue
        spans = days_in_stage(group, rule.stage, farm, pregnant=counts_as_pregnant(group, farm))
        if spans is not None:
            yield Binding(rule, group.group_id, source_id, one, spans)


def _rules_for(group: Group) -> Iterator[Rule]:
    for rule in rules():
        if rule.demand in OF_A_SOURCE and group.animal_class in classes_bound(rule.stock):
            yield rule


def counted_together(bound: Iterable[Binding]) -> tuple[tuple[Binding, ...], ...]:
    """Return the limits that several lots or feeds share: what each may be is the most of all.

    Parameters
    ----------
    bound : iterable of Binding
        The rules that bind on a farm.

    Returns
    -------
    tuple of tuple of Binding
        For each group and limit with two sources or more, its bindings in their order. A feed
        that is bought at several times is several sources.
    """
    found: dict[tuple[str, str, str], list[Binding]] = {}
    for one in bound:
        if one.rule.together:
            key = (one.group_id, one.rule.together, one.rule.demand)
            found.setdefault(key, []).append(one)
    several = (mine for mine in found.values() if len({one.source_id for one in mine}) > 1)
    return tuple(tuple(mine) for mine in several)


def diet_rule(rule_ids: Sequence[str], group: Group, farm: Farm) -> Rule | None:
    """Return the first of some rules of the whole diet that binds a group.

    Parameters
    ----------
    rule_ids : sequence of str
        Rules of the whole diet.
    group : Group
        The group.
    farm : Farm
        Its season is read.

    Returns
    -------
    Rule or None
        ``None`` where none does.
    """
    pregnant = counts_as_pregnant(group, farm)
    for rule in rules():
        mine = rule.rule_id in rule_ids and group.animal_class in classes_bound(rule.stock)
        if mine and days_in_stage(group, rule.stage, farm, pregnant=pregnant) is not None:
            return rule
    return None


def diet_spans(rule_id: str, group: Group, farm: Farm) -> Spans | None:
    """Return the days on which a rule of the whole diet binds a group.

    Parameters
    ----------
    rule_id : str
        A rule of the whole diet.
    group : Group
        The group.
    farm : Farm
        Its season is read.

    Returns
    -------
    tuple of (date, date) or None
        ``None`` where it never does; empty where it always does.
    """
    rule = rule_of(rule_id)
    if group.animal_class not in classes_bound(rule.stock):
        return None
    return days_in_stage(group, rule.stage, farm, pregnant=counts_as_pregnant(group, farm))
