"""The feeding log as masses: what each line put out, as fed and as dry matter."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from rickyard.farm import Farm, FedRow, Feed, FeedKind, Lot
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.sampling import UNKNOWN_RAIN_MM
from rickyard.hay.storage import dry_per_bale
from rickyard.program.inputs import feed_values


@dataclass(frozen=True, slots=True)
class PutOut:
    """A line of the feeding log with its masses, in kilograms.

    ``is_forage`` says whether it is a lot or bought hay. Masses are ``None`` where nobody knows
    what a bale weighs, and dry matter where the line names a thing that the farm no longer has.
    """

    row: FedRow
    is_forage: bool
    as_fed_kg: float | None
    dry_kg: float | None


def put_out(farm: Farm, until: date) -> tuple[PutOut, ...]:
    """Return what the feeding log of a farm put out to the end of a day.

    A bale of a lot weighs what the book says on the day of its count, less what storage took since.

    Parameters
    ----------
    farm : Farm
        Its feeding log, lots, reports, feeds and rain are read.
    until : date
        The last day that is looked at.

    Returns
    -------
    tuple of PutOut
        By day, lines of a day in the order of the log.

    Raises
    ------
    OutOfRange
        If neither weight nor size of a lot's bales is known.
    """
    lots = {lot.lot_id: _of_lot(farm, lot) for lot in farm.lots}
    feeds = {feed.feed_id: _of_feed(farm, feed) for feed in farm.feeds}
    rows = sorted((row for row in farm.fed if row.day <= until), key=lambda row: row.day)
    weighed = {**lots, **feeds}
    return tuple(
        weighed[row.source_id](row)
        if row.source_id in weighed
        else PutOut(row, False, row.mass_kg, None)
        for row in rows
    )


def _of_lot(farm: Farm, lot: Lot) -> Callable[[FedRow], PutOut]:
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    rain = farm.season.rainfall_mm_per_year
    dry = dry_per_bale(lot, dm_pct, UNKNOWN_RAIN_MM if rain is None else rain)

    def of(row: FedRow) -> PutOut:
        if row.mass_kg is not None:
            return PutOut(row, True, row.mass_kg, row.mass_kg * dm_pct / 100.0)
        kg = (row.bales or 0.0) * dry(row.day)
        return PutOut(row, True, kg / dm_pct * 100.0, kg)

    return of


def _of_feed(farm: Farm, feed: Feed) -> Callable[[FedRow], PutOut]:
    values, _ = feed_values(feed, farm.season)

    def of(row: FedRow) -> PutOut:
        kg = row.mass_kg
        if kg is None and feed.bale_weight_kg is not None:
            kg = (row.bales or 0.0) * feed.bale_weight_kg
        dry = None if kg is None else kg * values.dm_pct / 100.0
        return PutOut(row, feed.kind is FeedKind.FORAGE, kg, dry)

    return of
