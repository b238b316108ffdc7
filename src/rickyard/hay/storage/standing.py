"""What stands on a day: bales, hay as fed and dry matter, and how surely each is known."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from rickyard.display import count_text
from rickyard.farm import FedRow, Lot, MoveRow, Package, Storage
from rickyard.hay.bales import (
    bale_weight_kg,
    book_density_as_fed_kg_m3,
    round_volume_m3,
    square_volume_m3,
)
from rickyard.hay.common import require_dm, require_not_negative
from rickyard.hay.precision import samples_required
from rickyard.hay.storage.ledger import DryPerBale, LotBook, lot_book
from rickyard.hay.storage.storage import remaining_fraction
from rickyard.quantities import Numeric, OutOfRange

#: A mean month, for losses that are published by the month.
DAYS_PER_MONTH: Final = 30.4375

#: Spread of bale weights within one lot and baler, of the mean (common practice).
BALE_CV_PCT: Final = 8.0
#: Bales weighed when nobody says how many: three per lot (Wisconsin, Blazek & Wiegand).
USUAL_WEIGHED: Final = 3
#: A mean weight is known well enough within this, nine times in ten (common practice).
WEIGH_WITHIN_PCT: Final = 5.0
WEIGH_CONFIDENCE: Final = 0.90
#: Error of a weight that comes from the size of a bale: growers and agents miss by a tenth
#: (Hancock; Wisconsin 100 lb; Missouri 15 to 20 %).
SIZE_ERROR_PCT: Final = 10.0
#: Spread of dry matter under a roof and outside, points (common practice).
DM_SD_PCT: Final = {True: 1.0, False: 3.0}
#: Two years: hay is fed in the winter after it was made, or in the one after that. [d]
_FIRST_DAYS: Final = 731
_UNDER_ROOF: Final = (
    Storage.ROOF_OPEN_SIDES,
    Storage.ENCLOSED_BARN,
    Storage.COVERED_ELEVATED,
    Storage.WRAPPED,
)


@dataclass(frozen=True, slots=True)
class LotOnHand:
    """What stands of a lot at the end of a day, with standard errors of the masses.

    The errors are those of bale weight and dry matter; the count and the loss in storage are
    taken as they are.
    """

    lot_id: str
    day: date
    bales: float
    as_fed_kg: float
    as_fed_se_kg: float
    dry_kg: float
    dry_se_kg: float
    bale_kg: float
    weight_is: str


def mean_bale_kg(lot: Lot, dm_pct: float) -> float:
    """Return the mean weight of a lot's bales on the day they were counted, weighed or by size.

    Parameters
    ----------
    lot : Lot
        The lot. If neither weight nor size of its bales is known, ``OutOfRange``.
    dm_pct : float
        Dry matter of the hay as fed. [%]

    Returns
    -------
    float
        Weight as fed. [kg]

    Examples
    --------
    >>> from rickyard.farm import Forage
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 40.0,
    ...           date(2026, 6, 1), date(2026, 10, 1), bale_diameter_m=1.524, bale_width_m=1.524)
    >>> round(mean_bale_kg(lot, 85.0))
    524
    """
    require_dm(dm_pct)
    if lot.bale_weight_kg is not None:
        return lot.bale_weight_kg
    sides = (lot.bale_length_m, lot.bale_width_m, lot.bale_height_m)
    if lot.bale_diameter_m is not None and lot.bale_width_m is not None:
        volume = round_volume_m3(lot.bale_diameter_m, lot.bale_width_m)
    elif None not in sides:
        volume = square_volume_m3(*sides)
    else:
        raise OutOfRange(f"neither the weight nor the size of a bale of {lot.lot_id} is known.")
    return float(bale_weight_kg(volume, book_density_as_fed_kg_m3(lot.package, 100.0 - dm_pct)))


def dry_per_bale(lot: Lot, dm_pct: float, rain_mm_per_year: float) -> DryPerBale:
    """Return the dry matter of one bale as a function of the day.

    The lot's weight holds on the day of the count; it falls with storage, and before it was more.

    Parameters
    ----------
    lot : Lot
        The lot. If neither weight nor size of its bales is known, ``OutOfRange``.
    dm_pct : float
        Dry matter of the hay as fed. [%]
    rain_mm_per_year : float
        Yearly rainfall of the place. [mm]

    Returns
    -------
    callable
        The dry matter of a bale on a day. [kg]
    """
    left = _left_by_day(lot, rain_mm_per_year)
    baled = mean_bale_kg(lot, dm_pct) * dm_pct / 100.0 / left(lot.counted_on)
    return lambda day: baled * left(day)


def _left_by_day(lot: Lot, rain_mm_per_year: float) -> Callable[[date], float]:
    """Return the share of the dry matter that is left on a day.

    A book asks for hundreds of days: those of the first years are worked out together.
    """
    baled = lot.baled_on.toordinal()

    def left(days: Numeric) -> Numeric:
        months = np.divide(days, DAYS_PER_MONTH)
        return remaining_fraction(lot.storage, 0.0, months, rain_mm_per_year, lot.wrap)

    first: list[float] = np.asarray(left(np.arange(_FIRST_DAYS, dtype=np.float64))).tolist()

    def on(day: date) -> float:
        days = max(0, day.toordinal() - baled)
        return first[days] if days < _FIRST_DAYS else float(left(float(days)))

    return on


def book_of(
    lot: Lot,
    moves: Sequence[MoveRow],
    fed: Sequence[FedRow],
    dm_pct: float,
    rain_mm_per_year: float,
) -> LotBook:
    """Return the book of a lot with the dry matter of its bales.

    Parameters
    ----------
    lot : Lot
        The lot.
    moves, fed : sequence
        The farm's movements and feeding log, in any order.
    dm_pct : float
        Dry matter of the hay as fed. [%]
    rain_mm_per_year : float
        Yearly rainfall of the place. [mm]

    Returns
    -------
    LotBook
        The book.
    """
    return lot_book(lot, moves, fed, dry_per_bale(lot, dm_pct, rain_mm_per_year), dm_pct)


def standing_on(
    book: LotBook, day: date, dm_pct: float, dm_se_pct: float | None = None
) -> LotOnHand:
    """Return what stands of a lot at the end of a day.

    The hay is taken to lie as moist as it was tested; what storage takes is dry matter.

    Parameters
    ----------
    book : LotBook
        The book of the lot.
    day : date
        The day.
    dm_pct : float
        Dry matter of the hay as fed, 5 to 98. [%]
    dm_se_pct : float, optional
        Standard error of the dry matter; left out, 1 point under cover and 3 outside. [%]

    Returns
    -------
    LotOnHand
        Bales, hay as fed and dry matter, with standard errors.

    Examples
    --------
    >>> from rickyard.farm import Forage
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 100.0,
    ...           date(2026, 6, 1), date(2026, 10, 1), bale_weight_kg=500.0, bales_weighed=10)
    >>> now = standing_on(book_of(lot, (), (), 88.0, 900.0), date(2026, 10, 1), 88.0)
    >>> now.as_fed_kg, round(now.dry_kg), round(now.dry_se_kg)
    (50000.0, 44000, 1168)
    """
    require_dm(dm_pct)
    lot = book.lot
    spread = DM_SD_PCT[lot.storage in _UNDER_ROOF] if dm_se_pct is None else dm_se_pct
    require_not_negative("standard error of dry matter", spread, "%")
    bales, dry = book.bales_on(day), book.dry_kg_on(day)
    weight_error, weight_is = bale_weight_error_frac(lot)
    as_fed = dry * 100.0 / dm_pct
    return LotOnHand(
        lot_id=lot.lot_id,
        day=day,
        bales=bales,
        as_fed_kg=as_fed,
        as_fed_se_kg=as_fed * weight_error,
        dry_kg=dry,
        dry_se_kg=dry * math.hypot(weight_error, spread / dm_pct),
        bale_kg=book.dry_per_bale(day) * 100.0 / dm_pct,
        weight_is=weight_is,
    )


def bales_to_weigh(lot: Lot, within_pct: float = WEIGH_WITHIN_PCT) -> int:
    """Return how many bales to weigh so that a lot's mean weight is known well enough.

    Source: derived, see `rickyard.hay.precision.precision.samples_required`.

    Parameters
    ----------
    lot : Lot
        The lot; the spread of its weights is used where it is known, else 8 %.
    within_pct : float
        Half width wanted, nine times in ten. [% of the weight]

    Returns
    -------
    int
        Bales, all of them in a small lot. [-]

    Examples
    --------
    >>> from rickyard.farm import Forage
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 500.0,
    ...           date(2026, 6, 1), date(2026, 10, 1))
    >>> bales_to_weigh(lot)
    9
    """
    spread = BALE_CV_PCT
    if lot.bale_weight_sd_kg is not None and lot.bale_weight_kg:
        spread = 100.0 * lot.bale_weight_sd_kg / lot.bale_weight_kg
    return samples_required(spread, within_pct, WEIGH_CONFIDENCE, max(1, math.floor(lot.bales)))


def bale_weight_error_frac(lot: Lot) -> tuple[float, str]:
    """Return the standard error of a lot's mean bale weight as a share of it, and its origin.

    Without the spread of the weights 8 % from bale to bale is taken, without the number of bales
    weighed three; where none was, a weight is as unsure as one from the size. The correction for a
    finite lot makes it nothing when every bale was weighed.

    Parameters
    ----------
    lot : Lot
        Its bales, how many were weighed and how they spread.

    Returns
    -------
    tuple of (float, str)
        The share, and where it comes from.

    Examples
    --------
    >>> from rickyard.farm import Forage
    >>> lot = Lot("A", "Barn", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, 100.0,
    ...           date(2026, 6, 1), date(2026, 10, 1), bale_weight_kg=500.0, bales_weighed=10)
    >>> round(bale_weight_error_frac(lot)[0], 4)
    0.024
    """
    if lot.bale_weight_kg is None:
        return SIZE_ERROR_PCT / 100.0, "from bale size, none weighed"
    if lot.bales_weighed == 0:
        return SIZE_ERROR_PCT / 100.0, "estimated, none weighed"
    weighed = lot.bales_weighed or USUAL_WEIGHED
    spread = (
        BALE_CV_PCT / 100.0
        if lot.bale_weight_sd_kg is None
        else lot.bale_weight_sd_kg / lot.bale_weight_kg
    )
    left = 1.0 - weighed / max(weighed, lot.bales)
    error = spread / math.sqrt(weighed) * math.sqrt(left)
    what = "load" if lot.package is Package.LOOSE else "bale"
    told = f"{count_text(weighed, what)} weighed"
    if lot.bales_weighed is None:
        told = f"how many were weighed is not written, {weighed} assumed"
    return error, told
