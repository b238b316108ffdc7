"""Second look at appetite: stock with free access eat what fills them, worked out again.

A forage fills an animal at what it eats of it alone: by its energy, and no more than its fiber
allows. Concentrate takes the place of the forage that it puts aside at the amount fed.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from rickyard.animals import IN_TDN
from rickyard.farm import Farm, FeedKind, Group
from rickyard.kinds import Offered
from rickyard.program.inputs import season_series
from rickyard.program.result import Ration, SeasonProgram, SourceValues
from rickyard.quantities import is_some
from rickyard.stock.common import NeedSeries
from rickyard.stock.equations import NDF_CAP_PCT_BW, appetite_kg
from rickyard.stock.fill import forage_put_aside_kg

#: A ration may be so far from what they would eat.
FROM, TO = 0.95, 1.05

#: A supplement of so much protein is a protein feed. [% DM]
PROTEIN_FEED_PCT: Final = 34.0

#: What is wrong, what the program says and what is found.
Found = tuple[str, float, float]


def has_free_access(program: SeasonProgram, group: Group, period: int) -> bool:
    """Return whether a group is told to have free access in a period.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    group : Group
        A group of it.
    period : int
        The period.

    Returns
    -------
    bool
        Never where it is counted in TDN, whose appetite is a ceiling.
    """
    if group.animal_class in IN_TDN:
        return False
    start = program.periods[period].start
    end = start + timedelta(days=program.periods[period].days)
    return any(
        one.group_id == group.group_id
        and one.offered is Offered.FREE_CHOICE
        and one.start < end
        and one.end > start
        for one in program.rations
    )


def fill_breaches(program: SeasonProgram, farm: Farm) -> Iterator[Found]:
    """Look for stock with free access that are planned less or more than they eat.

    Parameters
    ----------
    program : SeasonProgram
        The program.
    farm : Farm
        The farm it is of.

    Yields
    ------
    tuple of (str, float, float)
        What is wrong, the share of appetite told, and that found, in percent.
    """
    short = {(one.group_id, one.period) for one in program.needs if is_some(one.shortage)}
    stated = {one.group_id for one in farm.needs}
    for group in farm.groups:
        if group.animal_class in IN_TDN or group.group_id in stated:
            continue
        series = season_series(farm, group, program.periods)
        for ration in program.rations:
            if ration.group_id != group.group_id or ration.offered is not Offered.FREE_CHOICE:
                continue
            weeks = _weeks(program, ration)
            share = sum(_share(program, farm, ration, series, at) for at in weeks) / len(weeks)
            hungry = any((ration.group_id, at) in short for at in weeks)
            if share > TO or (share < FROM and not hungry):
                name = f"{group.name}, appetite filled by ration {ration.number}"
                yield name, ration.appetite_pct or 0.0, 100.0 * share


def _weeks(program: SeasonProgram, ration: Ration) -> list[int]:
    return [
        one.index
        for one in program.periods
        if one.start < ration.end and one.start + timedelta(days=one.days) > ration.start
    ]


def _share(
    program: SeasonProgram, farm: Farm, ration: Ration, series: NeedSeries, at: int
) -> float:
    values = {one.source_id: one for one in program.sources}
    kinds = {feed.feed_id: feed.kind for feed in farm.feeds}
    weight = float(series.full_weight_kg[at])
    forages = [
        (one.eaten_kg_dm_per_head_day, values[one.source_id])
        for one in ration.things
        if values[one.source_id].is_forage
    ]
    whole = sum(amount for amount, _ in forages)
    if not is_some(whole):
        return 0.0
    alone = [(amount, _alone(value, series, at)) for amount, value in forages]
    tdn = sum(amount * value.tdn_pct for amount, value in forages) / whole
    eats = sum(amount * most for amount, most in alone) / whole
    share = sum(amount / most for amount, most in alone)
    for one in ration.things:
        kind = kinds.get(one.source_id)
        if kind not in (FeedKind.GRAIN, FeedKind.SUPPLEMENT):
            continue
        protein = values[one.source_id].cp_pct >= PROTEIN_FEED_PCT
        aside = forage_put_aside_kg(
            one.eaten_kg_dm_per_head_day,
            weight,
            "starch" if kind is FeedKind.GRAIN else "protein" if protein else "fibre",
            forage_tdn_pct=tdn,
        )
        share += float(aside) / eats
    return share


def _alone(value: SourceValues, series: NeedSeries, at: int) -> float:
    by_energy = appetite_kg(
        series.intake_rule[at],
        float(series.shrunk_weight_kg[at]),
        value.nem_mcal_per_kg,
        float(series.milk_kg[at]),
        float(series.intake_factor[at]),
    )
    if not is_some(value.ndf_pct):
        return float(by_energy)
    by_fiber = NDF_CAP_PCT_BW / value.ndf_pct * float(series.full_weight_kg[at])
    return min(float(by_energy), by_fiber)
