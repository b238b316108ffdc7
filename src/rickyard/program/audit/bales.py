"""The bales of the yard, counted again for the second look at deliveries."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from rickyard.farm import Farm, FeedKind
from rickyard.hay.storage import book_of
from rickyard.program.inputs import UNKNOWN_RAINFALL_MM, yard_lot
from rickyard.program.result import SeasonProgram

#: A bale that lacks less than this of one is whole.
TOLERANCE: Final = 1e-6


@dataclass(slots=True)
class Bales:
    """The bales of a source: how many stand, and the weight of one in each period."""

    count: int | None
    weight_kg: list[float]


def count_bales(program: SeasonProgram, farm: Farm) -> Iterator[tuple[str, Bales]]:
    """Yield the bales of every hay that has them, those sold taken off."""
    lots = {lot.lot_id: lot for lot in farm.lots}
    weighed = {feed.feed_id for feed in farm.feeds if feed.kind is not FeedKind.FORAGE}
    most = {feed.feed_id: feed.most_kg for feed in farm.feeds}
    for value in program.sources:
        nominal = value.bale_weight_kg
        if nominal is None or value.source_id in weighed:
            continue
        steady = [nominal] * len(program.periods)
        if value.source_id not in lots:
            limit = most[value.source_id]
            count = None if limit is None else math.floor(limit / nominal + TOLERANCE)
            yield value.source_id, Bales(count, steady)
            continue
        lot = lots[value.source_id]
        yard = yard_lot(farm, lot, value.dm_pct, program.periods)
        rain = farm.season.rainfall_mm_per_year
        rain = UNKNOWN_RAINFALL_MM if rain is None else rain
        book = book_of(lot, farm.moves, farm.fed, value.dm_pct, rain)
        stand = lot.bales + book.since_count(farm.season.start)
        if stand <= 0 or yard.start_kg_dm <= TOLERANCE:
            yield value.source_id, Bales(0, steady)
            continue
        each = yard.start_kg_dm / stand / (value.dm_pct / 100.0)
        weights = []
        for kept in yard.kept.tolist():
            each *= kept
            weights.append(each)
        sold = sum(one.dm_kg for one in program.sales if one.lot_id == lot.lot_id)
        stand -= sold / (yard.start_kg_dm / stand)
        yield value.source_id, Bales(math.floor(stand + TOLERANCE), weights)


def bales_taken(program: SeasonProgram, bales: dict[str, Bales]) -> dict[str, float]:
    """Return how many bales of each source are put out, what is weighed out counted in bales."""
    period_of = {
        period.start + timedelta(days=number): period.index
        for period in program.periods
        for number in range(period.days)
    }
    taken: dict[str, float] = defaultdict(float)
    for one in program.deliveries:
        if one.source_id in bales and one.day in period_of:
            weight = bales[one.source_id].weight_kg[period_of[one.day]]
            taken[one.source_id] += one.mass_kg / weight if one.bales is None else one.bales
    return dict(taken)
