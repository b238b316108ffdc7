"""Why a wish cannot be kept, in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from rickyard.display import display_for
from rickyard.farm import Farm, Group
from rickyard.program.problem.problem import Problem
from rickyard.program.result import Wish
from rickyard.safety import rule_cautions
from rickyard.types import BoolArray, FloatArray

EARLIER: Final = "an earlier wish says otherwise"
TOO_MANY_HAYS: Final = "no more hays are fed to a group at once"

#: An amount that is less than another by no more than this is the same. [kg DM]
DUST_KG: Final = 1e-6


def counts_hays(farm: Farm) -> bool:
    """Return whether hays are counted: so many at once, or each for so long at least.

    Parameters
    ----------
    farm : Farm
        The farm.

    Returns
    -------
    bool
        Whether any rule counts hays.
    """
    at_once = [farm.season.hays_at_once, *(group.hays_at_once for group in farm.groups)]
    return farm.season.least_run_days is not None or any(one is not None for one in at_once)


def unknown_words(farm: Farm, wish: Wish, *, known: bool) -> str:
    """Say why a wish speaks of nothing in this season."""
    if not known:
        return f'the farm has no lot or feed "{wish.source_id}"'
    if wish.group_id and all(group.group_id != wish.group_id for group in farm.groups):
        return f'the farm has no group "{wish.group_id}"'
    return "no animals are here to be fed on those days"


def against_rules(
    farm: Farm, problem: Problem, source: int, wanted: BoolArray, least: FloatArray
) -> Iterator[tuple[BoolArray, str]]:
    """Tell which rules of the farm take a wish away, and where.

    Parameters
    ----------
    least : array, shape (groups, periods)
        How much of it at least. [kg DM per head and day]
    """
    allowed = problem.sources.allowed[:, source, :]
    for g in range(len(problem.needs.groups)):
        mine = np.zeros_like(wanted)
        mine[g] = wanted[g] & ~allowed[g]
        if mine.any():
            yield mine, _why_barred(farm, problem, source, g, mine[g])
    most = problem.sources.most_kg_dm[:, source, :]
    over = wanted & (least > most + DUST_KG)
    if over.any():
        name = problem.sources.values[source].name
        what = display_for(farm.units).mass_text(float(most[over].min()))
        yield over, f"no more than {what} dry matter of {name} is fed to a head"


def _why_barred(farm: Farm, problem: Problem, source: int, g: int, where: BoolArray) -> str:
    value, group = problem.sources.values[source], problem.needs.groups[g]
    for one in problem.sources.bound:
        mine = (one.group_id, one.source_id) == (group.group_id, value.source_id)
        periods = (problem.needs.periods[at] for at in np.flatnonzero(where).tolist())
        if (
            mine
            and one.rule.demand == "none"
            and any(one.holds(at.start, at.days) for at in periods)
        ):
            told = rule_cautions(farm, [one])
            if told:
                return told[0].sentence.rstrip(".")
            return f"{one.rule.hazard}, found or suspected, keeps {value.name} from {group.name}"
    return _by_date(farm, value.source_id) or _by_kind(farm, value.source_id, group)


def _by_date(farm: Farm, source_id: str) -> str:
    """Say between which days a lot or feed may be fed; nothing where it may be on any."""
    display = display_for(farm.units)
    for lot in farm.lots:
        if lot.lot_id == source_id:
            if lot.feed_by is not None:
                return f"{lot.name} must be fed by {display.day_text(lot.feed_by)}"
            if lot.feed_from is not None:
                return f"{lot.name} is not fed before {display.day_text(lot.feed_from)}"
    for feed in farm.feeds:
        if feed.feed_id == source_id and (feed.from_on or feed.to_on):
            first = f" from {display.day_text(feed.from_on)}" if feed.from_on else ""
            last = f" until {display.day_text(feed.to_on)}" if feed.to_on else ""
            return f"{feed.name} is available only{first}{last}"
    return ""


def _by_kind(farm: Farm, source_id: str, group: Group) -> str:
    for feed in farm.feeds:
        if feed.feed_id == source_id and feed.npn_cp_pct:
            return f"{feed.name} holds urea or the like, and {group.name} are too small for it"
    return f"a rule of the farm folder keeps it from {group.name}"
