"""What stands in the yard: the weight of a bale, the dry matter of a lot, what storage takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.farm import Assumption, Caution, Farm, Lot, MoveKind, Package, Season
from rickyard.hay.storage import (
    LotBook,
    book_of,
    mean_bale_kg,
    remaining_fraction,
    storage_loss_remark,
)
from rickyard.program.inputs.said import assumed, cautioned
from rickyard.program.result import Period
from rickyard.types import FloatArray

#: A mean month, for losses that are published by the month.
DAYS_PER_MONTH: Final = 30.4375

#: Rainfall taken when none is given: the humid end of the published storage losses (40 in a
#: year), so that hay is not counted which may not be there.
UNKNOWN_RAINFALL_MM: Final = 1016.0


@dataclass(frozen=True, slots=True)
class YardLot:
    """A lot at the first day of the season.

    ``kept`` is the share of the dry matter standing at the start of each period that storage
    leaves at its end, shape (periods,).
    """

    lot: Lot
    bale_weight_kg: float | None
    start_kg_dm: float
    kept: FloatArray
    assumptions: tuple[Assumption, ...]
    cautions: tuple[Caution, ...]


def yard_lot(farm: Farm, lot: Lot, dm_pct: float, periods: Sequence[Period]) -> YardLot:
    """Bring a lot from the day it was counted to the start of the season and through it.

    Parameters
    ----------
    farm : Farm
        Season and feeding log are read.
    lot : Lot
        The lot.
    dm_pct : float
        Dry matter of the hay as fed. [%]
    periods : sequence of Period
        The season's periods.

    Returns
    -------
    YardLot
        Dry matter at the start and what storage leaves in each period.
    """
    weight, weight_note = lot_bale_weight_kg(lot, dm_pct)
    rain, rain_note = _rainfall(farm.season)
    months = _months_since(lot.baled_on, [period.start for period in periods])
    last = periods[-1].start + timedelta(days=periods[-1].days) if periods else farm.season.end
    edges = np.append(months, _months_since(lot.baled_on, [last]))
    counted_at = float(_months_since(lot.baled_on, [lot.counted_on])[0])
    start_at = max(float(edges[0]), counted_at)
    standing = float(remaining_fraction(lot.storage, counted_at, start_at, rain, lot.wrap))
    book = book_of(lot, farm.moves, farm.fed, dm_pct, rain)
    # Bales that were fed or sold on the way lost nothing more in storage, so bales are counted.
    bales = lot.bales + book.since_count(farm.season.start)
    start = max(0.0, bales) * weight * dm_pct / 100.0 * standing
    cautions = [*_log_cautions(farm, lot, book), *_storage_cautions(lot, float(edges[-1]), rain)]
    kept = np.asarray(remaining_fraction(lot.storage, edges[:-1], edges[1:], rain, lot.wrap))
    return YardLot(
        lot=lot,
        bale_weight_kg=None if lot.package is Package.LOOSE else weight,
        start_kg_dm=start,
        kept=kept,
        assumptions=(*weight_note, *rain_note, *_log_notes(farm, lot)),
        cautions=tuple(cautions),
    )


def lot_bale_weight_kg(lot: Lot, dm_pct: float) -> tuple[float, tuple[Assumption, ...]]:
    """Return the mean weight of a lot's bales (loads, when loose) as fed, weighed or by size."""
    weight = mean_bale_kg(lot, dm_pct)
    if lot.bale_weight_kg is not None:
        return weight, ()
    note = assumed("bales_not_weighed", lot=lot.name)
    return weight, (note,)


def _months_since(baled_on: date, days: Sequence[date]) -> FloatArray:
    return np.array([max(0, (day - baled_on).days) / DAYS_PER_MONTH for day in days])


def _rainfall(season: Season) -> tuple[float, tuple[Assumption, ...]]:
    if season.rainfall_mm_per_year is not None:
        return season.rainfall_mm_per_year, ()
    note = assumed("no_rainfall")
    return UNKNOWN_RAINFALL_MM, (note,)


def _log_notes(farm: Farm, lot: Lot) -> tuple[Assumption, ...]:
    """Say what was taken from a count, or added to it, up to the start of the season."""

    def between(day: date) -> bool:
        return lot.counted_on <= day < farm.season.start

    notes = []
    if any(row.source_id == lot.lot_id and between(row.day) for row in farm.fed):
        notes.append(assumed("log_subtracted", lot=lot.name))
    mine = (row for row in farm.moves if lot.lot_id in (row.lot_id, row.to_lot_id))
    if any(between(row.day) and row.kind is not MoveKind.CORED for row in mine):
        notes.append(assumed("moves_added", lot=lot.name))
    return tuple(notes)


def _log_cautions(farm: Farm, lot: Lot, book: LotBook) -> list[Caution]:
    """Tell of entries that come too late to count, and of bales taken that were not there."""
    start = farm.season.start
    cautions = []
    later = [row for row in farm.fed if row.source_id == lot.lot_id and row.day >= start]
    if later:
        cautions.append(cautioned("late_entries", lot.lot_id, count=len(later), lot=lot.name))
    if any(line.kind == "missing" and lot.counted_on <= line.day < start for line in book.lines):
        cautions.append(cautioned("more_than_counted", lot.lot_id, lot=lot.name))
    return cautions


def _storage_cautions(lot: Lot, months: float, rain: float) -> list[Caution]:
    remark = storage_loss_remark(lot.storage, months, rain, lot.wrap)
    if remark is None:
        return []
    return [cautioned("storage_remark", lot.lot_id, lot=lot.name, remark=remark)]
