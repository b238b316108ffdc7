"""Storage loss: what is printed and what to plan with.

Published losses differ because some weigh water with the hay, some judge by eye and some are
true dry matter. The planning equation follows Huhnke's table, which is dry matter and spans all
methods; the Tennessee weights serve as a worst case only.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Final

import numpy as np

from rickyard.farm import Storage, Wrap
from rickyard.hay.common import (
    End,
    end_of,
    equation,
    find,
    read_table,
    require_between,
    require_not_negative,
)
from rickyard.quantities import KG_M3_PER_LB_FT3, M_PER_IN, Numeric, OutOfRange

_KEYS: Final = ("table", "method", "period")
_MM_PER_IN: Final = 1000.0 * M_PER_IN

# Huhnke, Oklahoma State BAE-1716: low end under 25 in of rain a year, high end over 40 in.
DRY_RAIN_MM: Final = 25.0 * _MM_PER_IN
HUMID_RAIN_MM: Final = 40.0 * _MM_PER_IN
# The table's two periods, "up to 9 months" and "12-18 months", stand at 9 and 15 months.
FIRST_MONTHS: Final = 9.0
SECOND_MONTHS: Final = 15.0
LAST_MONTHS: Final = 18.0
MOST_LOSS_PCT: Final = 60.0

# Huhnke mixes wraps; his numbers are taken for plastic twine (common practice). Others by the
# ratio of Shinners' losses: net 7.3, sisal 19.5, plastic twine 11.3 %.
WRAP_FACTOR: Final = {
    Wrap.PLASTIC_TWINE: 1.0,
    Wrap.NET: 0.65,
    Wrap.SISAL: 1.70,
    # Solid plastic on dry hay: Collins 1995 prints 3.6 % against 18.2 % for sisal.
    Wrap.FILM: 3.6 / 18.2 * 1.70,
}
EXPOSED: Final = frozenset({Storage.EXPOSED_GROUND, Storage.EXPOSED_ELEVATED})

# Common practice, no published source; Shinners prints under 7, often under 3 %.
WRAPPED_LOSS_PCT: Final = 5.0
WRAPPED_KEEPS_MONTHS: Final = 9.0  # Univ. Georgia, How long will baleage keep

# Straight line through the Ruppel 1992 table for 180 days, in lb of dry matter per cubic foot.
BUNKER_INTERCEPT_PCT: Final = 28.7
BUNKER_SLOPE_PCT: Final = 0.85
BUNKER_DENSITY_KG_M3: Final = (10.0 * KG_M3_PER_LB_FT3, 22.0 * KG_M3_PER_LB_FT3)
BUNKER_DAYS: Final = 180.0
BUNKER_MOST_DAYS: Final = 360.0


@cache
def storage_loss_lookup(table: str, method: str, period: str = "", end: End = "") -> float:
    """Look up the loss [%] that one published table prints.

    Table, method and period are in the words of ``data/storage_losses.csv``, where the source of
    every row stands.

    Examples
    --------
    >>> storage_loss_lookup("osu_bae1716", "exposed_ground", "le9", "high")
    20.0
    """
    rows = read_table("storage_losses", "pct", _KEYS)
    return end_of(find(rows, (table, method, period)), end)


@equation(months=(require_not_negative, "months in storage", "months"))
def storage_loss_pct(
    storage: Storage,
    months: Numeric,
    rain_mm_per_year: float | None = None,
    wrap: Wrap | None = None,
) -> Numeric:
    """Dry matter to expect lost in storage, for planning.

    Huhnke's two periods are read at 9 and 15 months and joined by straight lines from the
    origin; between 25 and 40 in of rain a year the loss moves from his low to his high end.
    The loss stays at its 15-month value to 18 months and after that for want of data, and an
    exposed bale never counts above 60 %; `storage_loss_remark` says when that happens. Wrapped
    baleage is given 5 %, reached in a straight line over 9 months (common practice).

    Held at the value of the last printed month beyond it.

    Source: Huhnke, Round Bale Hay Storage, Oklahoma State BAE-1716 (the table); Shinners, Univ.
    Wisconsin, Choosing bale wrap (the wrap factors); The interpolation between them is derived, see
    the notes.

    Parameters
    ----------
    storage : Storage
        Where the hay stands.
    months : float or array
        Time in storage, any shape, not negative. [month]
    rain_mm_per_year : float, optional
        Yearly rainfall of the place. Not needed for wrapped baleage. Not negative; unknown where it
        is needed, it raises ``OutOfRange``. [mm]
    wrap : Wrap, optional
        What holds a round bale that stands exposed; ``None`` is taken for plastic twine.

    Returns
    -------
    float or array
        Loss since it was stored, of the dry matter stored. [%]

    Examples
    --------
    >>> round(storage_loss_pct(Storage.EXPOSED_GROUND, 6.0, 36 * 25.4), 2)
    10.67
    """
    return np.minimum(_uncapped_loss_pct(storage, months, rain_mm_per_year, wrap), MOST_LOSS_PCT)


def storage_loss_remark(
    storage: Storage,
    months: float,
    rain_mm_per_year: float | None = None,
    wrap: Wrap | None = None,
) -> str | None:
    """Say what the reader should know about a planned storage loss, if anything.

    Parameters
    ----------
    storage, months, rain_mm_per_year, wrap
        As in `storage_loss_pct`.

    Returns
    -------
    str or None
        One sentence, or ``None`` when the published table covers the case.

    Examples
    --------
    >>> storage_loss_remark(Storage.ENCLOSED_BARN, 24.0, 900.0)
    'No published loss beyond 18 months of storage: the 18-month value is used.'
    """
    require_not_negative("months in storage", months, "months")
    if storage is Storage.WRAPPED:
        if months > WRAPPED_KEEPS_MONTHS:
            return "Feed baleage within 9 months; check for holes, mold and bad smell."
        return None
    if float(_uncapped_loss_pct(storage, months, rain_mm_per_year, wrap)) > MOST_LOSS_PCT:
        return "The loss is capped at 60%: this hay may not be worth storing so long."
    if months > LAST_MONTHS:
        return "No published loss beyond 18 months of storage: the 18-month value is used."
    return None


@equation()
def remaining_fraction(
    storage: Storage,
    months_from: Numeric,
    months_to: Numeric,
    rain_mm_per_year: float | None = None,
    wrap: Wrap | None = None,
) -> Numeric:
    """Share of the dry matter at one time that is still there at a later one.

    Hay weighed or counted at ``months_from`` has lost what it lost before: only the loss from
    then on is taken off. Losses are held as `storage_loss_pct` holds them.

    Parameters
    ----------
    storage, rain_mm_per_year, wrap
        As in `storage_loss_pct`.
    months_from, months_to : float or array
        Two ages of the lot since it was stored, the later not before the earlier. [month]

    Returns
    -------
    float or array
        Fraction left. [-]

    Examples
    --------
    >>> round(remaining_fraction(Storage.EXPOSED_GROUND, 3.0, 9.0, 1016.0), 4)
    0.8571
    """
    if np.any(np.less(months_to, months_from)):
        raise OutOfRange("the later age of the hay is before the earlier one.")
    lost_before = storage_loss_pct(storage, months_from, rain_mm_per_year, wrap)
    lost_after = storage_loss_pct(storage, months_to, rain_mm_per_year, wrap)
    return (100.0 - np.asarray(lost_after)) / (100.0 - np.asarray(lost_before))


def _uncapped_loss_pct(
    storage: Storage, months: Numeric, rain_mm_per_year: float | None, wrap: Wrap | None
) -> Numeric:
    if storage is Storage.WRAPPED:
        return np.interp(months, [0.0, WRAPPED_KEEPS_MONTHS], [0.0, WRAPPED_LOSS_PCT])
    if rain_mm_per_year is None:
        raise OutOfRange("the storage loss of hay depends on the yearly rainfall: state it.")
    first, second = _losses(storage, rain_mm_per_year)
    loss = np.interp(months, [0.0, FIRST_MONTHS, SECOND_MONTHS], [0.0, first, second])
    if storage in EXPOSED and wrap is not None:
        loss = loss * WRAP_FACTOR[wrap]
    return loss


@lru_cache(maxsize=1024)
def _losses(storage: Storage, rain_mm_per_year: float) -> tuple[float, float]:
    """Return what is lost by the end of either period of the table. [%]."""
    require_not_negative("rainfall", rain_mm_per_year, "mm a year")
    wet = (rain_mm_per_year - DRY_RAIN_MM) / (HUMID_RAIN_MM - DRY_RAIN_MM)
    wet_frac = min(max(wet, 0.0), 1.0)
    return _between_ends(storage, "le9", wet_frac), _between_ends(storage, "12_18", wet_frac)


def _between_ends(storage: Storage, period: str, wet_frac: float) -> float:
    low = storage_loss_lookup("osu_bae1716", storage.value, period, "low")
    high = storage_loss_lookup("osu_bae1716", storage.value, period, "high")
    return low + wet_frac * (high - low)


@equation(
    dm_density_kg_m3=(require_between, "bunker density", *BUNKER_DENSITY_KG_M3, "kg/m3"),
    days=(require_between, "days in the bunker", 0.0, BUNKER_MOST_DAYS, "days"),
)
def bunker_loss_pct(dm_density_kg_m3: Numeric, days: Numeric = BUNKER_DAYS) -> Numeric:
    """Dry matter lost in a bunker silo [%] by how tightly it is packed.

    Dry matter 10 to 22 lb/ft3 (160 to 352 kg/m3), at most 360 days. From Ruppel (1992) in Holmes &
    Muck, Univ. Wisconsin; the straight line is fitted here (derived), for 180 days and in
    proportion to time.

    Examples
    --------
    >>> round(bunker_loss_pct(15.0 * 16.01846), 2)
    15.95
    """
    dense = np.divide(dm_density_kg_m3, KG_M3_PER_LB_FT3)
    return (BUNKER_INTERCEPT_PCT - BUNKER_SLOPE_PCT * dense) * np.divide(days, BUNKER_DAYS)
