"""Copper, molybdenum and selenium in a hay: too little, too much, and one against the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from rickyard.forage.hazards.hazard import ASK, Hazard
from rickyard.forage.hazards.hazard_tables import COPPER_TO_MOLYBDENUM, SELENIUM

#: Copper to molybdenum below it locks copper up (weak source); up to 4 is low, from memory.
TOXIC_CU_TO_MO_BELOW: Final = 2.0
LOW_CU_TO_MO_BELOW: Final = 4.0
#: NRC 1996, p. 67: hurts fertility and growth of cattle in the whole diet. [ppm DM]
MO_HARMFUL_FROM_PPM: Final = 5.0
# Beef cattle's need, and what makes it marginal; from memory. [ppm DM; % DM]
CU_NEEDED_PPM: Final = 10.0
CU_MARGINAL_S_ABOVE_PCT: Final = 0.25
CU_MARGINAL_FE_ABOVE_PPM: Final = 250.0
# Sheep store copper; from memory. [ppm DM]
SHEEP_CU_ABOVE_PPM: Final = 15.0
SHEEP_MO_BELOW_PPM: Final = 1.0
SE_TOXIC_ABOVE_PPM: Final = 5.0  # Int. J. Appl. Agric. Sci. 2016;2(6):112
_FROM_MEMORY: Final = "Beef and sheep nutrition practice, from memory"


def selenium_class(se_ppm: float) -> str:
    """Return the class of a forage by its selenium.

    Parameters
    ----------
    se_ppm : float
        Selenium. [ppm DM]

    Returns
    -------
    str
        deficient, marginal, adequate, or above the maximum tolerable.

    References
    ----------
    .. [1] Int. J. Appl. Agric. Sci. 2016;2(6):112-125.

    Examples
    --------
    >>> selenium_class(0.15)
    'marginal'
    """
    return SELENIUM.label(se_ppm)


def trace_mineral_hazards(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    """Yield what copper, molybdenum and selenium of a hay call for.

    Parameters
    ----------
    name : str
        What the lot is called.
    values : mapping of str to float
        ``cu``, ``mo``, ``se`` and ``fe`` in ppm, ``s`` in percent of dry matter, where measured.

    Yields
    ------
    Hazard
        Gravest first within each mineral.

    Examples
    --------
    >>> [one.name for one in trace_mineral_hazards("Creek", {"cu": 6.0, "mo": 4.0})]
    ['molybdenum']
    >>> [one.level for one in trace_mineral_hazards("Creek", {"se": 7.0})]
    ['danger']
    """
    yield from _molybdenum(name, values)
    yield from _copper(name, values)
    yield from _selenium(name, values.get("se"))


def _molybdenum(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    cu, mo = values.get("cu"), values.get("mo")
    if mo is None or mo <= 0.0:
        return
    ratio = None if cu is None else cu / mo
    toxic = ratio is not None and ratio < TOXIC_CU_TO_MO_BELOW
    low = ratio is not None and ratio < LOW_CU_TO_MO_BELOW
    if not (low or mo >= MO_HARMFUL_FROM_PPM):
        return
    beside = "" if ratio is None else f" beside {cu:.0f} ppm copper, {ratio:.1f} to 1"
    grave = toxic or mo >= MO_HARMFUL_FROM_PPM
    yield Hazard(
        "molybdenum",
        "warning" if grave else "note",
        f"The molybdenum of {name} is {mo:.1f} ppm of the dry matter{beside}",
        f"{COPPER_TO_MOLYBDENUM.name}, {COPPER_TO_MOLYBDENUM.unit}; molybdenum from "
        f"{MO_HARMFUL_FROM_PPM:.0f} ppm",
        f"{COPPER_TO_MOLYBDENUM.source}; NRC 1996, p. 67",
        "cattle and sheep, breeding stock and calves first",
        "molybdenum ties up copper; the whole diet should have 6 to 1 or more. Mix it with other "
        "hay, and have a nutritionist set the copper of the mineral.",
        "Ask the lab to confirm both by wet chemistry." if grave else "",
    )


def _copper(name: str, values: Mapping[str, float]) -> Iterator[Hazard]:
    cu, mo = values.get("cu"), values.get("mo")
    if cu is None:
        return
    if cu > SHEEP_CU_ABOVE_PPM and mo is not None and mo < SHEEP_MO_BELOW_PPM:
        yield Hazard(
            "copper",
            "warning",
            f"The copper of {name} is {cu:.0f} ppm of the dry matter with {mo:.1f} ppm molybdenum",
            f"copper above {SHEEP_CU_ABOVE_PPM:.0f} ppm with molybdenum below "
            f"{SHEEP_MO_BELOW_PPM:.0f} ppm of the dry matter",
            _FROM_MEMORY,
            "sheep only",
            "copper builds up in sheep until it kills them. Keep it from sheep, or dilute it well.",
            ASK,
            not_for=("sheep",),
        )
    locked = (
        values.get("s", 0.0) > CU_MARGINAL_S_ABOVE_PCT
        or values.get("fe", 0.0) > CU_MARGINAL_FE_ABOVE_PPM
    )
    if cu < CU_NEEDED_PPM and locked:
        yield Hazard(
            "copper",
            "note",
            f"The copper of {name} is {cu:.0f} ppm of the dry matter, under the "
            f"{CU_NEEDED_PPM:.0f} ppm that beef cattle need, and its sulfur or iron ties some up",
            f"copper need {CU_NEEDED_PPM:.0f} ppm; sulfur above {CU_MARGINAL_S_ABOVE_PCT:g}% or "
            f"iron above {CU_MARGINAL_FE_ABOVE_PPM:.0f} ppm of the dry matter",
            _FROM_MEMORY,
            "cattle",
            "use a mineral with copper.",
        )


def _selenium(name: str, se_ppm: float | None) -> Iterator[Hazard]:
    if se_ppm is None:
        return
    finding = f"The selenium of {name} is {se_ppm:.2f} ppm of the dry matter"
    table = f"{SELENIUM.name}, {SELENIUM.unit}"
    if se_ppm > SE_TOXIC_ABOVE_PPM:
        yield Hazard(
            "selenium",
            "danger",
            f"{finding}, above the {SE_TOXIC_ABOVE_PPM:.0f} ppm that stock tolerate",
            table,
            SELENIUM.source,
            "all stock",
            "it can poison. Feed it to no stock until it is cleared, and add no selenium.",
            ASK,
            in_short=f"{se_ppm:.2g} ppm selenium",
        )
    elif SELENIUM.place(se_ppm) < SELENIUM.labels.index("adequate"):
        yield Hazard(
            "selenium",
            "note",
            f"{finding}, {SELENIUM.label(se_ppm)}",
            table,
            SELENIUM.source,
            "breeding stock and the young first",
            "use a mineral with selenium; too little causes white muscle disease.",
        )
