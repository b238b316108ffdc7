"""What the copper of a whole diet means for sheep, goats and llamas, and what it keeps away."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.animals import CLASSES, Stock
from rickyard.display import listed
from rickyard.farm import Caution, Farm, FeedKind, Group
from rickyard.program.inputs import cautioned
from rickyard.program.problem import Problem
from rickyard.quantities import is_some
from rickyard.safety import amount_of, classes_bound, counts_as_pregnant, rule_of
from rickyard.stock.sheep import diet_copper_ppm, judge_copper
from rickyard.types import FloatArray

#: The stock that copper poisons first, as the table of copper calls them.
_WHO: Final[Mapping[Stock, str]] = MappingProxyType(
    {Stock.SHEEP: "sheep", Stock.GOATS: "goat", Stock.CAMELIDS: "camelid"}
)

#: What the diet of cattle may hold is told of, and limits nothing.
CATTLE_RULE: Final = "copper-diet-cattle"

COPPER_SOURCE: Final = "Duncan 1997, In Practice 19:503; Berger, University of Illinois"


def copper_cautions(problem: Problem, eaten: FloatArray) -> Iterator[Caution]:
    """Yield what the richest diet of each group of small stock holds of copper.

    Parameters
    ----------
    problem : Problem
        The season.
    eaten : array, shape (groups, sources, periods)
        What is eaten. [kg DM per head and day]

    Yields
    ------
    Caution
        Where all that a group eats in a period was tested for copper and it is more than they
        need; a diet of unknown copper is spoken of with the feeds that carry it.
    """
    ppm = np.array(
        [np.nan if one.copper_ppm is None else one.copper_ppm for one in problem.sources.values]
    )
    for g, group in enumerate(problem.needs.groups):
        who = _WHO.get(CLASSES[group.animal_class].stock)
        diets = [(is_some(eaten[g, :, t]), eaten[g, :, t]) for t in range(eaten.shape[2])]
        known = [
            diet_copper_ppm(amount[fed].tolist(), ppm[fed].tolist())
            for fed, amount in diets
            if fed.any() and not np.isnan(ppm[fed]).any()
        ]
        if not known:
            continue
        if who is None:
            yield from _of_cattle(group, max(known))
            continue
        # What the solver leaves above a limit by a millionth is at the limit.
        verdict = judge_copper(round(max(known), 3), [who])
        if verdict.light == "green":
            continue
        yield Caution(
            "danger" if verdict.light == "red" else "warning",
            group.group_id,
            f"{group.name}: {verdict.sentence} Copper builds up in the liver and kills without "
            "warning: ask a veterinarian.",
            COPPER_SOURCE,
        )


def _of_cattle(group: Group, ppm: float) -> Iterator[Caution]:
    rule = rule_of(CATTLE_RULE)
    if group.animal_class not in classes_bound(rule.stock) or ppm <= amount_of(CATTLE_RULE):
        return
    yield Caution(
        rule.level,
        group.group_id,
        f"The diet of {group.name} holds {ppm:.0f} mg/kg of copper, over the "
        f"{amount_of(CATTLE_RULE):g} mg/kg that newer tables let cattle have: take off one of the "
        "feeds that hold it, Jerseys first, and ask your veterinarian.",
        rule.source,
        (rule.rule_id,),
        groups=(group.group_id,),
    )


def barred_mineral_cautions(farm: Farm, problem: Problem, eaten: FloatArray) -> Iterator[Caution]:
    """Yield who gives birth without selenium or vitamin E since their mineral is barred.

    Parameters
    ----------
    farm : Farm
        Its groups and the tags of its feeds.
    problem : Problem
        The season, with the rules that bind.
    eaten : array, shape (groups, sources, periods)
        What is eaten. [kg DM per head and day]

    Yields
    ------
    Caution
        For each group that carries young, from which a mineral is kept for its copper, and which
        is fed nothing else whose tag states selenium, or vitamin E.
    """
    feeds = {feed.feed_id: feed for feed in farm.feeds}
    values = problem.sources.values
    for g, group in enumerate(problem.needs.groups):
        barred = [
            feeds[one.source_id].name
            for one in problem.sources.bound
            if one.group_id == group.group_id
            and one.rule.hazard == "copper"
            and one.bars
            and one.source_id in feeds
            and feeds[one.source_id].kind is FeedKind.MINERAL
        ]
        if not barred or not counts_as_pregnant(group, farm):
            continue
        fed = [
            feeds[value.source_id]
            for i, value in enumerate(values)
            if value.source_id in feeds and eaten[g, i].any()
        ]
        missing = [
            word
            for word, name in (("selenium", "selenium_ppm"), ("vitamin E", "vitamin_e_iu_per_kg"))
            if not any(is_some(getattr(feed, name) or 0.0) for feed in fed)
        ]
        if missing:
            yield cautioned(
                "barred_mineral",
                group.group_id,
                group=group.name,
                minerals=listed(list(dict.fromkeys(barred))),
                missing=" or ".join(missing),
            )
