"""Wrapped bales: moisture, acidity, how well they soured, and what grows where they did not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.farm import Forage, Lot, Package
from rickyard.forage import shipped_rows
from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.plausibility import LotProfile
from rickyard.forage.values import CLASS_TABLES

#: A pH above the safe one matters from this moisture on; judgement, no published source.
PH_SAFE_NEEDED_ABOVE_MOISTURE_PCT: Final = 50.0
_MOISTURE: Final = CLASS_TABLES["baleage_moisture"]
_PH: Final = CLASS_TABLES["baleage_ph"]


def silage_ph_range(crop: str, dm_pct_range: str) -> str:
    """Return the usual acidity of a silage as text, low to high.

    Source: Kung & Shaver, University of Wisconsin Focus on Forage, Table 1.

    Parameters
    ----------
    crop : str
        ``legume``, ``grass`` or ``corn``.
    dm_pct_range : str
        Dry matter as the table groups it: ``30-40``, ``45-55`` (legume), ``30-35`` (grass). Another
        row raises ``KeyError``.

    Returns
    -------
    str
        For example ``4.3-4.7``. [pH]

    Examples
    --------
    >>> silage_ph_range("legume", "30-40")
    '4.3-4.7'
    """
    rows = shipped_rows("silage_fermentation.csv")
    return {(row["crop"], row["dm_pct"]): row["ph"] for row in rows}[crop, dm_pct_range]


def baleage_hazards(lot: Lot, profile: LotProfile) -> Iterator[Hazard]:
    """Yield what moisture and acidity of wrapped bales call for, and what holds for every one."""
    if lot.package is not Package.BALEAGE:
        return
    known = profile.origins["dm_pct"] != "book"
    moisture = 100.0 - profile.dm_pct if known else None
    if moisture is not None:
        key = ("baleage_dry", "", "baleage_wet", "baleage_soaked")[_MOISTURE.place(moisture)]
        if key:
            yield told(key, lot.name, moisture=moisture)
    dry = moisture is not None and _MOISTURE.place(moisture) == 0
    key = "" if profile.ph is None or dry else _acidity(lot, profile.ph, moisture)
    if key:
        yield told(key, lot.name, ph=profile.ph)
    yield told("baleage", lot.name)


def _acidity(lot: Lot, ph: float, moisture: float | None) -> str:
    place = _PH.place(ph)
    if place == len(_PH.limits) and lot.forage is Forage.SMALL_GRAIN:
        return "ph_small_grain"
    if place > 1:
        return "ph_doubtful"
    moist = moisture is None or moisture > PH_SAFE_NEEDED_ABOVE_MOISTURE_PCT
    return "ph_watch" if place == 1 and moist else ""


def fermentation_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what much butyric or little lactic acid of baleage or silage calls for."""
    butyric, lactic = values.get("butyric"), values.get("lactic")
    if butyric is not None and CLASS_TABLES["butyric_acid"].place(butyric):
        yield told("butyric_acid", name, pct=butyric)
    if lactic is not None and not CLASS_TABLES["lactic_acid"].place(lactic):
        yield told("lactic_acid", name, pct=lactic)
