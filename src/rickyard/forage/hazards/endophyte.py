"""Ergovaline of tall fescue and lolitrem B of ryegrass, by species and stage."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.forage.hazards.hazard import ASK, Hazard, Level
from rickyard.forage.hazards.hazard_tables import (
    ERGOVALINE_BROOD_MARE,
    ERGOVALINE_CATTLE,
    LOLITREM_B,
    PPB_PER_PPM,
)

# Oregon State University Endophyte Service Laboratory, parts per billion of dry matter; late
# pregnancy of mares is the last 60-90 days, from memory.
ORST_THRESHOLDS_PPB: Final[dict[str, tuple[float, float]]] = {
    "cattle": (400.0, 750.0),
    "sheep": (500.0, 800.0),
    "horse": (300.0, 500.0),
    "brood_mare": (0.0, 0.0),
}
_LEVELS: Final[tuple[Level, ...]] = ("note", "warning", "danger")
# Cattle: watch from 200, toxic from 400, the Missouri and Oregon State figures joined. [ppb]
CATTLE_WATCH_FROM_PPB: Final = 200.0
CATTLE_TOXIC_FROM_PPB: Final = 400.0
LOLITREM_WATCH_FROM_PPB: Final = 1800.0  # Oregon State University


def ergovaline_threshold_text(animal: str) -> str:
    """Return the published threshold of ergovaline as it is printed.

    Parameters
    ----------
    animal : str
        ``cattle``, ``sheep``, ``horse`` or ``brood_mare``.

    Returns
    -------
    str
        Parts per billion of dry matter, low to high.

    Raises
    ------
    KeyError
        If no threshold is published for the animal.

    References
    ----------
    .. [1] Oregon State University Endophyte Service Laboratory.

    Examples
    --------
    >>> ergovaline_threshold_text("cattle"), ergovaline_threshold_text("brood_mare")
    ('400-750', '0')
    """
    low, high = ORST_THRESHOLDS_PPB[animal]
    return f"{low:g}" if low == high else f"{low:g}-{high:g}"


def endophyte_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what ergovaline and lolitrem B of a hay call for.

    Parameters
    ----------
    name : str
        What the lot is called.
    values : mapping of str to float
        ``ergovaline`` and ``lolitrem_b`` in ppm of dry matter, where measured.

    Yields
    ------
    Hazard
        For cattle, sheep and horses together.

    Examples
    --------
    >>> [one.level for one in endophyte_hazards("Creek", {"ergovaline": 0.45})]
    ['danger']
    """
    ergovaline = values.get("ergovaline")
    if ergovaline is not None and ergovaline > 0.0:
        yield _ergovaline(name, ergovaline * PPB_PER_PPM)
    lolitrem = values.get("lolitrem_b", 0.0) * PPB_PER_PPM
    if lolitrem >= LOLITREM_WATCH_FROM_PPB:
        yield Hazard(
            "lolitrem B",
            "warning",
            f"The lolitrem B of {name} is {lolitrem:,.0f} ppb of the dry matter",
            f"{LOLITREM_B.name}, {LOLITREM_B.unit}",
            LOLITREM_B.source,
            "cattle and sheep",
            "it brings staggers. Mix it thin with other hay, and keep stock off steep ground.",
            ASK,
        )


def _ergovaline(name: str, ppb: float) -> Hazard:
    place = sum(ppb >= limit for limit in (CATTLE_WATCH_FROM_PPB, CATTLE_TOXIC_FROM_PPB))
    cattle = (
        "cattle bear it as it is",
        "cattle should have it mixed with other hay",
        "feed it to no cattle but mixed thin, and to none in cold or heat",
    )[place]
    return Hazard(
        "ergovaline",
        _LEVELS[place],
        f"The ergovaline of {name} is {ppb:,.0f} ppb of the dry matter",
        f"{ERGOVALINE_CATTLE.name}, sheep, horses and brood mares, {ERGOVALINE_CATTLE.unit}",
        f"{ERGOVALINE_CATTLE.source}; {ERGOVALINE_BROOD_MARE.source}",
        "brood mares in the last 60-90 days first, then horses, cattle, sheep",
        f"feed none to mares late in pregnancy; {cattle}. Hay loses some of it in curing, which "
        "is not to be relied on.",
        ASK if place else "",
        not_for=_kept_from(ppb),
    )


def _kept_from(ppb: float) -> tuple[str, ...]:
    horses = "horses" if ppb >= ORST_THRESHOLDS_PPB["horse"][0] else "pregnant horses"
    return (horses, "sheep") if ppb >= ORST_THRESHOLDS_PPB["sheep"][0] else (horses,)
