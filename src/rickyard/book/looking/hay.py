"""The book of a lot through all its counts: what came, what went, what no line explains."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from rickyard.book.services import Count
from rickyard.farm import Farm, Lot
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.sampling import UNKNOWN_RAIN_MM
from rickyard.hay.storage import (
    DUST,
    Account,
    DayPart,
    Line,
    LotBook,
    account,
    dry_per_bale,
    lot_book,
)


@dataclass(frozen=True, slots=True)
class HayOfLot:
    """What became of a lot since its book begins, to the end of a day."""

    lot: Lot
    book: LotBook
    account: Account


def hay_of(farm: Farm, lot: Lot, counts: Sequence[Count], until: date) -> HayOfLot:
    """Return what became of a lot, held to every count of it.

    Between two counts the book goes on from the first; what the second finds otherwise is a line
    of its own. Weights are turned into bales by the bale weight that is known now.

    Parameters
    ----------
    farm : Farm
        Its moves, feeding log, reports and rain are read.
    lot : Lot
        The lot as it is known now.
    counts : sequence of Count
        All counts of it, the first first; at least one.
    until : date
        The last day that is looked at. A count of a later day is not, unless it is the only one.

    Returns
    -------
    HayOfLot
        The book and its account, which balances to the last kilogram.
    """
    known = [one for one in counts if one.day <= until] or list(counts[:1])
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    rain = farm.season.rainfall_mm_per_year
    dry = dry_per_bale(lot, dm_pct, UNKNOWN_RAIN_MM if rain is None else rain)
    lines: list[Line] = []
    for place, one in enumerate(known):
        then = replace(lot, bales=one.bales, counted_on=one.day)
        whole = lot_book(then, farm.moves, farm.fed, dry, dm_pct).lines
        at = (one.day, DayPart.COUNTED)
        if place:
            lines = [line for line in lines if line.at < at]
            differs = one.bales - math.fsum(line.bales for line in lines)
            if abs(differs) > DUST:
                lines.append(Line(one.day, "count", differs))
            whole = tuple(line for line in whole if line.at > at)
        lines += [line for line in whole if line.day <= until]
    book = LotBook(lot, tuple(lines), dry)
    first = min([until, *(line.day for line in lines)])
    return HayOfLot(lot, book, account(book, first - timedelta(days=1), until))
