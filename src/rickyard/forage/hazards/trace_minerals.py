"""Copper, molybdenum and selenium in a hay: too little, too much, and one against the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.forage.hazards.hazard import Hazard, told
from rickyard.forage.values import CLASS_TABLES

# What makes the copper of a hay marginal for cattle, and little molybdenum for sheep; from
# memory. [% DM; ppm DM]
CU_MARGINAL_S_ABOVE_PCT: Final = 0.25
CU_MARGINAL_FE_ABOVE_PPM: Final = 250.0
SHEEP_MO_BELOW_PPM: Final = 1.0
_SELENIUM: Final = CLASS_TABLES["selenium"]
_RATIO: Final = CLASS_TABLES["copper_to_molybdenum"]


def selenium_class(se_ppm: float) -> str:
    """Return the class of a forage by its selenium.

    Source: Int. J. Appl. Agric. Sci. 2016;2(6):112-125.

    Parameters
    ----------
    se_ppm : float
        Selenium. [ppm DM]

    Returns
    -------
    str
        deficient, marginal, adequate, or above the maximum tolerable.

    Examples
    --------
    >>> selenium_class(0.15)
    'marginal'
    """
    return _SELENIUM.label(se_ppm)


def trace_mineral_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what copper, molybdenum and selenium of a hay call for."""
    yield from _molybdenum(name, values)
    yield from _copper(name, values)
    se = values.get("se")
    if se is not None and _SELENIUM.place(se) == len(_SELENIUM.limits):
        yield told("selenium_toxic", name, se=se)
    elif se is not None and _SELENIUM.place(se) < _SELENIUM.labels.index("adequate"):
        yield told("selenium_short", name, se=se, label=selenium_class(se))


def _molybdenum(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    cu, mo = values.get("cu"), values.get("mo")
    if mo is None or mo <= 0.0:
        return
    beside = "" if cu is None else f" beside {cu:.0f} ppm copper, {cu / mo:.1f} to 1"
    place = len(_RATIO.limits) if cu is None else _RATIO.place(cu / mo)
    grave = place == 0 or CLASS_TABLES["molybdenum"].place(mo) == 1
    if grave or _RATIO.labels[place] == "low":
        yield told(
            "molybdenum",
            name,
            level="warning" if grave else "note",
            mo=mo,
            beside=beside,
            whom="Ask the lab to confirm both by wet chemistry." if grave else "",
        )


def _copper(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    cu, mo = values.get("cu"), values.get("mo")
    if cu is None:
        return
    if CLASS_TABLES["copper_for_sheep"].place(cu) and mo is not None and mo < SHEEP_MO_BELOW_PPM:
        yield told("copper_for_sheep", name, cu=cu, mo=mo, little_mo=SHEEP_MO_BELOW_PPM)
    locked = (
        values.get("s", 0.0) > CU_MARGINAL_S_ABOVE_PCT
        or values.get("fe", 0.0) > CU_MARGINAL_FE_ABOVE_PPM
    )
    if CLASS_TABLES["copper"].place(cu) == 0 and locked:
        sulfur, iron = CU_MARGINAL_S_ABOVE_PCT, CU_MARGINAL_FE_ABOVE_PPM
        yield told("copper_short", name, cu=cu, sulfur_above=sulfur, iron_above=iron)
