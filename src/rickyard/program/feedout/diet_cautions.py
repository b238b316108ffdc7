"""Cautions that only show once it is known who eats what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.animals import CLASSES, Stock
from rickyard.display import Display, listed, listed_or_all
from rickyard.farm import Caution, Farm, FeedKind, Group
from rickyard.forage.hazards import diet_no3n_ppm
from rickyard.program.days import PROTEIN_RULE
from rickyard.program.feedout.copper_cautions import barred_mineral_cautions, copper_cautions
from rickyard.program.feedout.rumen_protein import rumen_protein_cautions
from rickyard.program.inputs import (
    MINERAL_DEMANDS,
    cautioned,
    grazing_cautions,
    most_mineral_kg,
    season_storms,
)
from rickyard.program.problem import Problem
from rickyard.program.result import GroupPeriod
from rickyard.quantities import is_some
from rickyard.safety import (
    Binding,
    amount_of,
    classes_bound,
    nitrate_found,
    nitrate_shares,
    rule_cautions,
    rule_of,
)
from rickyard.stock.fill import hours_cautions
from rickyard.stock.herd import cautions as small_stock_cautions
from rickyard.stock.herd import may_hold_copper
from rickyard.stock.sheep import safe_copper_ppm
from rickyard.types import FloatArray

#: Starch grain with hay: above this share of body weight forage intake and digestion fall
#: (eXtension, "How much corn can I feed to my cows?").
GRAIN_NOTE_PCT_BW: Final = 0.25

#: What a solver leaves above an amount is at it. [kg]
ROUNDING_KG: Final = 1e-9

#: By which cautions are ordered.
GRAVEST_FIRST: Final = ("danger", "warning", "note")


def program_cautions(
    farm: Farm,
    problem: Problem,
    eaten: FloatArray,
    groups: Sequence[GroupPeriod],
    display: Display,
) -> tuple[Caution, ...]:
    """Return the cautions of the lots and of the program, the gravest first.

    Parameters
    ----------
    farm : Farm
        The farm.
    problem : Problem
        The season; its sources carry the cautions found in the lots themselves.
    eaten : array, shape (groups, sources, periods)
        What is eaten. [kg DM per head and day]
    groups : sequence of GroupPeriod
        Who each group is in each period.
    display : Display
        Writes amounts in the farm's units.

    Returns
    -------
    tuple of Caution
        Dangers first, then warnings, then notes.
    """
    boxes = _nitrate(problem, eaten)
    found = [
        *_without_parts([*problem.sources.cautions, *_of_rules(farm, problem, eaten)], boxes),
        *boxes,
        *_urea_with_nitrate(problem, eaten),
        *_fescue_alone(problem, eaten, display),
        *_grain(farm, problem, eaten),
        *_grazing(farm, problem, eaten),
        *_minerals(farm, problem, eaten),
        *_protein(problem, eaten),
        *copper_cautions(problem, eaten),
        *barred_mineral_cautions(farm, problem, eaten),
        *rumen_protein_cautions(problem, eaten, display),
        *_losing(farm, groups, display),
        *small_stock_cautions(farm),
        *hours_cautions(farm),
        *season_storms(farm, farm.groups),
        cautioned("twine_and_net", ""),
    ]
    return tuple(
        sorted(dict.fromkeys(found), key=lambda caution: GRAVEST_FIRST.index(caution.level))
    )


def _of_rules(farm: Farm, problem: Problem, eaten: FloatArray) -> tuple[Caution, ...]:
    """Return the cautions of rules; how to feed a thing is told only to those who get it."""
    fed = {
        (group.group_id, value.source_id)
        for g, group in enumerate(problem.needs.groups)
        for i, value in enumerate(problem.sources.values)
        if eaten[g, i].any()
    }
    lots = {value.source_id for value in problem.sources.values if value.kind == "lot"}
    at_most = set(_at_most(farm, problem, eaten))

    def matters(one: Binding) -> bool:
        if one.rule.demand in MINERAL_DEMANDS:
            return (one.group_id, one.source_id, one.rule.rule_id) in at_most
        # What can kill is told to those within reach of it, whether they are fed it or not.
        near = one.rule.level == "danger" and one.source_id not in lots
        watched = one.rule.demand == "keep" and (not one.source_id or near)
        barred = one.rule.demand == "none" or watched
        return barred or (one.group_id, one.source_id) in fed

    return rule_cautions(farm, [one for one in problem.sources.bound if matters(one)])


def _at_most(farm: Farm, problem: Problem, eaten: FloatArray) -> Iterator[tuple[str, str, str]]:
    """Yield who is fed the most that a rule lets them have of a mineral, and by which rule."""
    sources, groups = problem.sources, problem.needs.groups
    group_at = {one.group_id: g for g, one in enumerate(groups)}
    source_at = {value.source_id: i for i, value in enumerate(sources.values)}
    for one in sources.bound:
        if one.rule.demand in MINERAL_DEMANDS:
            g, i = group_at[one.group_id], source_at[one.source_id]
            kg = most_mineral_kg(one.rule, groups[g], farm.feeds[i - sources.lot_count])
            most = kg * sources.values[i].dm_pct / 100.0 - ROUNDING_KG
            if ((eaten[g, i] >= most) & (sources.least_kg_dm[g, i] < most)).any():
                yield one.group_id, one.source_id, one.rule.rule_id


def _protein(problem: Problem, eaten: FloatArray) -> Iterator[Caution]:
    """Yield whose richest diet holds more protein than the rule that watches it lets pass."""
    rule = rule_of(PROTEIN_RULE)
    pct = np.array([value.cp_pct for value in problem.sources.values])
    dm = eaten.sum(axis=1)
    held = np.divide((eaten * pct[:, None]).sum(axis=1), dm, out=np.zeros(dm.shape), where=dm > 0.0)
    over = {
        group.name: (group.group_id, float(most))
        for group, most in zip(problem.needs.groups, held.max(axis=1, initial=0.0), strict=True)
        if group.animal_class in classes_bound(rule.stock) and most > amount_of(PROTEIN_RULE)
    }
    if over:
        ids = tuple(one for one, _ in over.values())
        yield Caution(
            rule.level,
            ids[0] if len(ids) == 1 else "",
            rule.words.format(
                groups=listed_or_all(list(over), len(problem.needs.groups)),
                value=max(most for _, most in over.values()),
                amount=rule.amount,
            ),
            rule.source,
            (rule.rule_id,),
            groups=ids,
        )


def _nitrate(problem: Problem, eaten: FloatArray) -> list[Caution]:
    """Return one box for each hay with nitrate that is fed, with all that is to be known of it."""
    sources = problem.sources
    together: dict[tuple[tuple[str, ...], str, str], list[int]] = {}
    for i, value in enumerate(sources.values):
        mine = [one for one in sources.bound if _of_nitrate(one, value.source_id)]
        # Horses have a limit, and rules of their own, but need not be begun on it by thirds.
        begun = {one.group_id for one in mine if one.rule.demand == "begin"}
        limited = begun & {one.group_id for one in mine if one.rule.demand == "share"}
        fed = tuple(
            group.group_id
            for g, group in enumerate(problem.needs.groups)
            if group.group_id in limited and eaten[g, i].any()
        )
        if fed:
            names = {group.group_id: group.name for group in problem.needs.groups}
            shares, none = nitrate_shares(mine, names)
            together.setdefault((fed, shares, none), []).append(i)
    return [
        _part_of_ration(problem, eaten, mine, shares, none)
        for (_, shares, none), mine in together.items()
    ]


def _of_nitrate(one: Binding, source_id: str) -> bool:
    return one.source_id == source_id and one.rule.hazard == "nitrate"


def _part_of_ration(
    problem: Problem, eaten: FloatArray, mine: Sequence[int], shares: str, none: str
) -> Caution:
    """Say what hays under the same limits hold, who gets how much of them, and how."""
    values = [problem.sources.values[i] for i in mine]
    ids = [one.source_id for one in values]
    bound = [one for one in problem.sources.bound for x in ids if _of_nitrate(one, x)]
    limits = [one for one in bound if one.rule.demand in ("share", "begin", "none")]
    told = cautioned(
        "part_of_ration",
        ids[0] if len(ids) == 1 else "",
        found=" ".join(
            nitrate_found([b for b in bound if b.source_id == one.source_id], one.name)
            for one in values
        ),
        shares=shares,
        none=none,
        of_groups=dict.fromkeys(one.group_id for one in limits),
        of_sources=ids,
        richest=_richest_in_nitrate(problem, eaten, mine),
    )
    return replace(told, rules=tuple(dict.fromkeys(one.rule.rule_id for one in limits)))


def _without_parts(found: Iterable[Caution], boxes: Iterable[Caution]) -> Iterator[Caution]:
    """Yield cautions without those of nitrate whose hay has a box that says all of it."""
    boxed = {source_id for one in boxes for source_id in one.sources}
    for one in found:
        rules = [rule_of(rule) for rule in one.rules]
        of_nitrate = rules and all(
            rule.hazard == "nitrate" and rule.demand != "keep" for rule in rules
        )
        if not (of_nitrate and one.about in boxed):
            yield one


def _urea_with_nitrate(problem: Problem, eaten: FloatArray) -> list[Caution]:
    """Warn of urea beside hay with nitrate: the rumen makes ammonia of both."""
    values = problem.sources.values
    urea = np.array([is_some(one.npn_cp_pct or 0.0) for one in values], dtype=bool)
    groups: list[Group] = []
    hays: set[int] = set()
    feeds: set[int] = set()
    for g, group in enumerate(problem.needs.groups):
        carriers = {
            one.source_id
            for one in problem.sources.bound
            if one.group_id == group.group_id and one.rule.demand == "begin"
        }
        nitrate = np.array([one.source_id in carriers for one in values], dtype=bool)
        fed = is_some(eaten[g])
        both = fed[urea].any(axis=0) & fed[nitrate].any(axis=0)
        if both.any():
            groups.append(group)
            fed_then = fed[:, both].any(axis=1)
            hays |= set(np.flatnonzero(fed_then & nitrate).tolist())
            feeds |= set(np.flatnonzero(fed_then & urea).tolist())
    if not groups:
        return []
    return [
        cautioned(
            "urea_with_nitrate",
            "",
            groups=listed([group.name for group in groups]),
            hays=listed(sorted(values[i].name for i in hays)),
            feeds=listed(sorted(values[i].name for i in feeds)),
            of_groups=[group.group_id for group in groups],
            of_sources=[values[i].source_id for i in sorted(feeds)],
        )
    ]


def _richest_in_nitrate(problem: Problem, eaten: FloatArray, mine: Sequence[int]) -> str:
    """Say what the whole ration holds where these are eaten, unless a forage in it is untested."""
    values = problem.sources.values
    # Grain, cake and minerals carry next to none, and nobody tests them for it.
    ppm = np.array(
        [
            (np.nan if one.is_forage else 0.0) if one.nitrate_no3n_ppm is None
            else one.nitrate_no3n_ppm
            for one in values
        ]
    )  # fmt: skip
    held = []
    with_them = is_some(eaten[:, list(mine), :]).any(axis=1)
    water = np.broadcast_to(problem.water_no3n_mg, with_them.shape)
    for g, t in np.argwhere(with_them).tolist():
        amount = eaten[g, :, t]
        fed, whole = is_some(amount), float(amount.sum())
        shares = amount[fed] / whole
        of_water = (1.0, float(water[g, t]), whole)
        held.append(float(np.max(diet_no3n_ppm(shares.tolist(), ppm[fed].tolist(), *of_water))))
    known = [one for one in held if np.isfinite(one)]
    if len(known) < len(held) or not known:
        return ""
    return (
        f" Mixed as planned, the whole ration holds at most {max(known):,.0f} ppm "
        f"nitrate-nitrogen, what the water brings {'' if water.any() else 'not '}counted."
    )


def _grain(farm: Farm, problem: Problem, eaten: FloatArray) -> list[Caution]:
    found = []
    weight = problem.needs.full_weight_kg
    for i, feed in enumerate(farm.feeds, start=len(farm.lots)):
        if feed.kind is not FeedKind.GRAIN:
            continue
        much = eaten[:, i, :] - GRAIN_NOTE_PCT_BW / 100.0 * weight > ROUNDING_KG
        whom = [group for g, group in enumerate(problem.needs.groups) if much[g].any()]
        if whom:
            found.append(
                cautioned(
                    "much_grain",
                    feed.feed_id,
                    feed=feed.name,
                    most=GRAIN_NOTE_PCT_BW,
                    names=listed_or_all([one.name for one in whom], len(farm.groups)),
                    of_groups=[group.group_id for group in whom],
                )
            )
    return found


def _grazing(farm: Farm, problem: Problem, eaten: FloatArray) -> list[Caution]:
    """Tell of what is grazed; of fescue only where no rule tells more of it to those who get it."""
    told = {one.source_id for one in problem.sources.bound if one.rule.hazard == "endophyte"}
    return [
        caution
        for i, feed in enumerate(farm.feeds, start=len(farm.lots))
        if feed.kind is FeedKind.GRAZING and eaten[:, i, :].any()
        for caution in grazing_cautions(feed, fescue=feed.feed_id not in told)
    ]


def _minerals(farm: Farm, problem: Problem, eaten: FloatArray) -> list[Caution]:
    safe = safe_copper_ppm(["sheep"])
    barred = {one.source_id for one in problem.sources.bound if one.rule.hazard == "copper"}
    bought = [
        feed.name
        for i, feed in enumerate(farm.feeds, start=len(farm.lots))
        if feed.kind is FeedKind.MINERAL
        and eaten[:, i, :].any()
        and (may_hold_copper(feed) if feed.copper_ppm is None else feed.copper_ppm > safe)
        and feed.feed_id not in barred
    ]
    here = {CLASSES[group.animal_class].stock for group in farm.groups}
    found = []
    if bought and Stock.SHEEP in here:
        found.append(cautioned("cattle_minerals", "", bought=listed(bought)))
    if bought and Stock.CAMELIDS in here:
        found.append(cautioned("camelid_minerals", "", bought=listed(bought)))
    return found


def _fescue_alone(problem: Problem, eaten: FloatArray, display: Display) -> Iterator[Caution]:
    """Yield fescue that nobody tested where there is little other forage beside it.

    Its caution says to mix it, and no row asks for that: no share is published, and much stock
    winters on nothing else.
    """
    sources, periods = problem.sources, problem.needs.periods
    names = {value.source_id: value.name for value in sources.values}
    forage = np.array([value.is_forage for value in sources.values], dtype=bool)
    together: dict[tuple[tuple[str, ...], int, int], list[Group]] = {}
    for g, group in enumerate(problem.needs.groups):
        bound = {
            one.source_id
            for one in sources.bound
            if (one.group_id, one.rule.rule_id) == (group.group_id, UNTESTED_FESCUE)
        }
        of = sources.is_hay & np.array(
            [value.source_id in bound for value in sources.values], dtype=bool
        )
        most = MOST_FESCUE * eaten[g, forage].sum(axis=0) + ROUNDING_KG
        at = np.flatnonzero(eaten[g, of].sum(axis=0) > most)
        if len(at):
            fed = eaten[g][:, at].any(axis=1) & of
            hays = tuple(
                value.source_id for value, on in zip(sources.values, fed, strict=True) if on
            )
            together.setdefault((hays, int(at[0]), int(at[-1])), []).append(group)
    for (hays, first, last), groups in together.items():
        told = cautioned(
            "fescue_alone",
            groups[0].group_id if len(groups) == 1 else "",
            hay=listed([names[one] for one in hays]),
            group=listed_or_all([one.name for one in groups], len(problem.needs.groups)),
            day=display.day_text(periods[first].start),
            of_groups=[one.group_id for one in groups],
            of_sources=hays,
            start=periods[first].start,
            end=periods[last].start + timedelta(days=periods[last].days),
        )
        yield replace(told, rules=(UNTESTED_FESCUE,))


#: The rule whose caution asks for other hay, and from which part of the forage on it is told that
#: there is too little. Judgement, no published source.
UNTESTED_FESCUE: Final = "fescue-unknown-others"
MOST_FESCUE: Final = 0.75


def _losing(farm: Farm, groups: Sequence[GroupPeriod], display: Display) -> list[Caution]:
    worst: dict[str, GroupPeriod] = {}
    for cell in groups:
        expected = cell.expected_gain_kg_per_day
        if expected is not None and not is_some(expected) and cell.group_id not in worst:
            worst[cell.group_id] = cell
    return [
        cautioned(
            "losing_weight",
            group_id,
            group=farm.group(group_id).name,
            day=display.day_text(cell.start),
            start=cell.start,
        )
        for group_id, cell in worst.items()
    ]
