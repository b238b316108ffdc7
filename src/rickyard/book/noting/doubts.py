"""What is possible but worth a second look before lines are written: more taken than stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from rickyard.book.noting.lines import Counted, Row
from rickyard.display import clean, display_for
from rickyard.farm import Farm, FedRow, Lot, MoveRow
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.sampling import UNKNOWN_RAIN_MM
from rickyard.hay.storage import DUST, book_of


def beyond(farm: Farm, rows: Sequence[Row]) -> tuple[str, ...]:
    """Return of which lots rows take more bales than stand by the book.

    Parameters
    ----------
    farm : Farm
        The farm as the book has it.
    rows : sequence of FedRow, MoveRow or Counted
        What is to be written.

    Returns
    -------
    tuple of str
        A question for each such lot. A lot that is counted by the rows themselves is not asked
        about: what stands is known then.
    """
    counted = {one.lot_id for one in rows if isinstance(one, Counted)}
    fed = tuple(one for one in rows if isinstance(one, FedRow))
    moves = tuple(one for one in rows if isinstance(one, MoveRow))
    then = replace(farm, fed=(*farm.fed, *fed), moves=(*farm.moves, *moves))
    named = {one.source_id for one in fed} | {one.lot_id for one in moves}
    found = []
    for lot in farm.lots:
        if lot.lot_id not in named - counted:
            continue
        before, after = _missing(farm, lot), _missing(then, lot)
        more = sum(after.values()) - sum(before.values())
        if more > DUST:
            first = min(day for day, bales in after.items() if bales > before.get(day, 0.0) + DUST)
            found.append(_asked(farm, lot, more, first))
    return tuple(found)


def _missing(farm: Farm, lot: Lot) -> dict[date, float]:
    """Return by day how many bales the lines of a lot take that do not stand."""
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    rain = farm.season.rainfall_mm_per_year
    book = book_of(lot, farm.moves, farm.fed, dm_pct, UNKNOWN_RAIN_MM if rain is None else rain)
    days: dict[date, float] = {}
    for line in book.lines:
        if line.kind == "missing":
            days[line.day] = days.get(line.day, 0.0) + line.bales
    return days


def _asked(farm: Farm, lot: Lot, more: float, first: date) -> str:
    many = f"{more:.3g} bale{'s' if more != 1.0 else ''}"
    return (
        f"{clean(lot.name)} ({lot.lot_id}): this takes {many} more than stand by the book on "
        f"{display_for(farm.units).weekday_text(first)}. Was it another lot? If not, count what "
        f'stands and write it, as "count {lot.lot_id} 0".'
    )
