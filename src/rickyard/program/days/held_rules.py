"""Which rules of safety hold on a program, and what is weighed and mixed every day by them.

A lot with nitrate may be a third of what is eaten in a week and still kill, where a whole bale of
it lies alone in the feeder for two days. What has a limit to its share is never put out by the
bale, nor is the hay that it is mixed into: both are there every day.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.farm import Farm, Feeder, Group
from rickyard.program.inputs import FLOOR_RULES, bound_in
from rickyard.program.problem import NitrateByDay, Problem
from rickyard.program.result import RuleHeld, SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import Binding, amount_of, classes_bound, diet_rule, rule_of
from rickyard.types import IntArray

#: The rules of the whole diet, by the ceiling that holds them.
DIET_RULES: Final[Mapping[str, tuple[str, ...]]] = {
    "nitrate": ("nitrate-diet-pregnant", "nitrate-diet"),
    "grain": ("grain-diet", "grain-diet-small", "grain-diet-horses"),
    "starch": ("starch-diet-horses",),
    "fat": ("fat-diet",),
    "sulfur": ("sulfur-diet",),
    "tetany": ("tetany-diet", "tetany-diet-ewes"),
    "milk_fever": ("milk-fever-diet",),
    "npn": ("urea-third",),
    "urea": ("urea-one-percent",),
    "copper": ("copper-diet-sheep", "copper-diet-goats", "copper-diet-camelids"),
}


#: The rule that watches the protein of the whole diet of small stock.
PROTEIN_RULE: Final = "protein-watch"


def rules_held(farm: Farm, problem: Problem) -> tuple[RuleHeld, ...]:
    """Return every rule of safety that holds in a season, with its days.

    Parameters
    ----------
    farm : Farm
        Its season says where rules without days begin and end.
    problem : Problem
        The rules that bind on its sources, and its ceilings.

    Returns
    -------
    tuple of RuleHeld
        Those between groups and lots or feeds, those of the whole diet, then those of some weeks.
    """
    return (
        *_of_sources(farm, problem),
        *_of_diets(farm, problem),
        *_of_floors(farm, problem),
        *_of_protein(problem),
        *_of_weeks(problem),
        *_of_nights(problem),
    )


def _of_sources(farm: Farm, problem: Problem) -> Iterator[RuleHeld]:
    season = farm.season
    for one in problem.sources.bound:
        for first, end in one.spans or ((season.start, season.end),):
            yield RuleHeld(
                rule_id=one.rule.rule_id,
                group_id=one.group_id,
                source_id=one.source_id,
                start=max(first, season.start),
                end=min(end, season.end),
                demand=one.rule.demand,
                amount=one.rule.amount,
                mixed=one.rule.mixed,
                by_whom=one.rule.source,
            )


def _of_diets(farm: Farm, problem: Problem) -> Iterator[RuleHeld]:
    periods = problem.needs.periods
    for ceiling in problem.ceilings:
        for g, group in enumerate(problem.needs.groups):
            at = np.flatnonzero(ceiling.active[g]).tolist()
            rule = diet_rule(DIET_RULES[ceiling.name], group, farm) if at else None
            if rule is None:
                continue
            last = periods[at[-1]]
            yield RuleHeld(
                rule_id=rule.rule_id,
                group_id=group.group_id,
                source_id="",
                start=periods[at[0]].start,
                end=last.start + timedelta(days=last.days),
                demand=rule.demand,
                amount=rule.amount,
                mixed=False,
                by_whom=rule.source,
            )


def _of_floors(farm: Farm, problem: Problem) -> Iterator[RuleHeld]:
    """Yield the shares of the whole diet that are asked for, from first day to last."""
    needs = problem.needs
    for name, rule_id in ((name, one) for name, mine in FLOOR_RULES.items() for one in mine):
        rule, asked = rule_of(rule_id), needs.here & np.isfinite(needs.floors[name])
        binds = bound_in(rule_id, farm, needs.periods) & asked
        for g in np.flatnonzero(binds.any(axis=1)).tolist():
            at = np.flatnonzero(binds[g]).tolist()
            last = needs.periods[at[-1]]
            yield RuleHeld(
                rule_id=rule_id,
                group_id=needs.groups[g].group_id,
                source_id="",
                start=needs.periods[at[0]].start,
                end=last.start + timedelta(days=last.days),
                demand=rule.demand,
                amount=rule.amount,
                mixed=False,
                by_whom=rule.source,
            )


def _of_protein(problem: Problem) -> Iterator[RuleHeld]:
    """Yield whose protein is watched, all season."""
    rule, periods = rule_of(PROTEIN_RULE), problem.needs.periods
    for g, group in enumerate(problem.needs.groups):
        at = np.flatnonzero(problem.needs.here[g]).tolist()
        if at and group.animal_class in classes_bound(rule.stock):
            yield RuleHeld(
                rule_id=rule.rule_id,
                group_id=group.group_id,
                source_id="",
                start=periods[at[0]].start,
                end=periods[at[-1]].start + timedelta(days=periods[at[-1]].days),
                demand=rule.demand,
                amount=rule.amount,
                mixed=False,
                by_whom=rule.source,
            )


def _of_weeks(problem: Problem) -> Iterator[RuleHeld]:
    """Yield the periods in which feed does not fall, once for energy and protein."""
    for one in problem.holds:
        if one.supply == "cp":
            period = problem.needs.periods[one.period]
            rule = rule_of(one.rule_id)
            yield RuleHeld(
                rule_id=rule.rule_id,
                group_id=problem.needs.groups[one.group].group_id,
                source_id="",
                start=period.start,
                end=period.start + timedelta(days=period.days),
                demand=rule.demand,
                amount=rule.amount,
                mixed=False,
                by_whom=rule.source,
            )


def _of_nights(problem: Problem) -> Iterator[RuleHeld]:
    """Yield by how much forage falls in one night at most, once for each group."""
    rule = rule_of("forage-fall")
    for g, group in enumerate(problem.needs.groups):
        mine = [problem.needs.periods[one.period] for one in problem.descents if one.group == g]
        if mine:
            yield RuleHeld(
                rule_id=rule.rule_id,
                group_id=group.group_id,
                source_id="",
                start=mine[0].start,
                end=mine[-1].start + timedelta(days=mine[-1].days),
                demand=rule.demand,
                amount=rule.amount,
                mixed=False,
                by_whom=rule.source,
            )


def only_mixed(program: SeasonProgram, group_id: str) -> frozenset[str]:
    """Return the ids of what a group may have only as part of a mix.

    Parameters
    ----------
    program : SeasonProgram
        The season program.
    group_id : str
        The group.

    Returns
    -------
    frozenset of str
        Ids of lots and feeds.
    """
    return frozenset(
        one.source_id for one in program.rules if one.mixed and one.group_id == group_id
    )


def poisons_mixed(program: SeasonProgram, source_id: str, group_ids: Collection[str]) -> list[str]:
    """Return for which poisons a hay is weighed and mixed, in the words of the table of rules.

    Parameters
    ----------
    program : SeasonProgram
        The season program.
    source_id : str
        The hay.
    group_ids : collection of str
        Who gets it.

    Returns
    -------
    list of str
        Such as nitrate, each once.
    """
    return list(
        dict.fromkeys(
            rule_of(one.rule_id).hazard
            for one in program.rules
            if one.mixed and one.source_id == source_id and one.group_id in group_ids
        )
    )


def weighed_out(program: SeasonProgram, group: Group) -> frozenset[str]:
    """Return the ids of the hay that a group gets weighed out and mixed every day.

    Parameters
    ----------
    program : SeasonProgram
        The season program.
    group : Group
        The group.

    Returns
    -------
    frozenset of str
        All its hay where it gets a mixed ration; else what it may have only in a mix, and the hay
        that goes with it.
    """
    name = group.group_id
    mixed = only_mixed(program, name)
    mine = [row for row in program.feeding if row.group_id == name and is_some(row.offered_kg)]
    when = {row.period for row in mine if row.source_id in mixed}
    hays = {one.source_id for one in program.sources if one.is_hay}
    if group.feeder is Feeder.MIXED_RATION:
        return frozenset(mixed | hays & {row.source_id for row in mine})
    beside = {row.source_id for row in mine if row.period in when and row.source_id in hays}
    return frozenset(mixed | beside)


def nitrate_by_day(
    program: SeasonProgram, farm: Farm, group: Group, period: IntArray, rules: list[Binding]
) -> NitrateByDay | None:
    """Return what counts for the nitrate of a group's days; ``None`` where no hay begins low.

    Parameters
    ----------
    program : SeasonProgram
        What is eaten, and what of nitrate is drunk beside it.
    farm : Farm
        Its rules are read.
    group : Group
        The group.
    period : array of int, shape (days,)
        The period of each day.
    rules : list of Binding
        The rules of safety that bind on the group.

    Returns
    -------
    NitrateByDay or None
        With the limit of pregnant stock wherever the program counted it.
    """
    if all(one.rule.demand != "begin" for one in rules):
        return None
    unknown = {
        one.source_id
        for one in rules
        if one.rule.hazard == "nitrate" and one.rule.known == "unknown"
    }
    known = {one.source_id: one.nitrate_no3n_ppm or 0.0 for one in program.sources}
    ppm = known | {
        one: max(known.get(one, 0.0), amount_of("nitrate-counted-as")) for one in unknown
    }
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    limit = diet_rule(("nitrate-diet-pregnant", "nitrate-diet"), group, farm)
    most = np.full(len(period), np.inf if limit is None else limit.amount or np.inf)
    drunk, eaten = np.zeros(len(period)), {}
    mine = [one for one in program.feeding if one.group_id == group.group_id]
    told = {
        one.period: one
        for one in program.needs
        if (one.group_id, one.nutrient) == (group.group_id, "nitrate")
    }
    for number in np.unique(period).tolist():
        days = period == number
        here = [one for one in mine if one.period == number and is_some(one.offered_kg)]
        whole = sum(one.eaten_kg_dm_per_head_day for one in here)
        for one in here:
            offered = one.offered_kg * dry[one.source_id] / int(days.sum()) / max(group.head, 1)
            eaten[one.source_id] = min(1.0, one.eaten_kg_dm_per_head_day / offered)
        row = told.get(number)
        if row is not None and is_some(whole):
            fed = sum(one.eaten_kg_dm_per_head_day * known[one.source_id] for one in here)
            drunk[days] = group.head * max(0.0, row.supplied - fed)
            most[days] = np.minimum(most[days], row.need / whole)
    return NitrateByDay(ppm, eaten, drunk, most)
