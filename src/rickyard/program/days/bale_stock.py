"""The bales of the yard: how many stand on the first day, and what one weighs in each period.

The program counts dry matter. A lot that storage eats at keeps its bales; each weighs less.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.farm import Farm, FeedKind, Lot
from rickyard.hay.storage import book_of
from rickyard.program.inputs import UNKNOWN_RAINFALL_MM, yard_lot
from rickyard.program.result import SeasonProgram, SourceValues
from rickyard.quantities import is_some
from rickyard.types import FloatArray

#: A bale is whole when it lacks no more than this of one.
WHOLE_WITHIN: Final = 1e-6

#: Less than this is no hay, kg of dry matter.
NOTHING_KG: Final = 1e-6


@dataclass(frozen=True, slots=True)
class BaleStock:
    """The bales of one source.

    ``bales`` is how many whole ones there are to feed on the first day of the season, those sold
    taken off, or may be bought, and ``None`` where as many are bought as are wanted. ``kg`` is
    what one weighs as fed in each period. ``counted`` is how many stand, those sold not taken off.
    """

    bales: int | None
    kg: FloatArray
    counted: float | None = None


def hay_ids(farm: Farm) -> frozenset[str]:
    """Return the ids of the hays: every lot, and every feed bought as forage.

    Parameters
    ----------
    farm : Farm
        Its lots and feeds are read.

    Returns
    -------
    frozenset of str
        Grass that is grazed is none of them.
    """
    bought = (feed.feed_id for feed in farm.feeds if feed.kind is FeedKind.FORAGE)
    return frozenset((*(lot.lot_id for lot in farm.lots), *bought))


def bale_stocks(program: SeasonProgram, farm: Farm) -> dict[str, BaleStock]:
    """Return the bales of every source that is fed by the bale.

    Parameters
    ----------
    program : SeasonProgram
        Its periods, and the weight of a bale of each source.
    farm : Farm
        Its lots and feeds are read.

    Returns
    -------
    dict
        By lot or feed. [bales, kg as fed]
    """
    values = {one.source_id: one for one in program.sources}
    found = {}
    for lot in farm.lots:
        stock = _of_lot(program, farm, lot, values[lot.lot_id])
        if stock is not None:
            found[lot.lot_id] = stock
    for feed in farm.feeds:
        # A bag of cubes has a weight too, but cubes are weighed out and not fed by the bag.
        if feed.kind is FeedKind.FORAGE and feed.bale_weight_kg is not None:
            most = None if feed.most_kg is None else _whole(feed.most_kg / feed.bale_weight_kg)
            steady = np.full(len(program.periods), feed.bale_weight_kg)
            found[feed.feed_id] = BaleStock(most, steady)
    return found


def _of_lot(program: SeasonProgram, farm: Farm, lot: Lot, value: SourceValues) -> BaleStock | None:
    if value.bale_weight_kg is None:
        return None
    yard = yard_lot(farm, lot, value.dm_pct, program.periods)
    rain = farm.season.rainfall_mm_per_year
    book = book_of(
        lot,
        farm.moves,
        farm.fed,
        value.dm_pct,
        UNKNOWN_RAINFALL_MM if rain is None else rain,
    )
    standing = lot.bales + book.since_count(farm.season.start)
    if not is_some(standing) or yard.start_kg_dm < NOTHING_KG:
        return BaleStock(0, np.full(len(program.periods), value.bale_weight_kg), 0.0)
    first_kg = yard.start_kg_dm / standing * 100.0 / value.dm_pct
    weight = np.asarray(first_kg * np.cumprod(yard.kept), dtype=np.float64)
    sold_kg_dm = sum(one.dm_kg for one in program.sales if one.lot_id == lot.lot_id)
    unsold = _whole(standing * (1.0 - sold_kg_dm / yard.start_kg_dm))
    return BaleStock(unsold, weight, standing)


def _whole(bales: float) -> int:
    return math.floor(bales + WHOLE_WITHIN)
