"""Limits on single values that make a hazard, as class tables for many reports at once.

The tables with several published classes stand in ``hazard_tables``. Those here are the plain
limits of the other hazards, taken from where each is defined.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from rickyard.forage.hazards import PPB_PER_PPM, baleage, fermentation, molds, soil
from rickyard.forage.hazards import trace_minerals as trace
from rickyard.forage.reading import BOUND_TOLD_FROM_PCT_OF_CP, LEAST_CP_PCT
from rickyard.forage.values import ClassTable, minerals, protein


def _from(limit: float) -> float:
    """Return the limit of a class that a value on the printed number belongs to."""
    return math.nextafter(limit, -math.inf)


@dataclass(frozen=True, slots=True)
class PlainHazard:
    """One hazard of a batch: the column or index, its factor to the unit of the table, the table.

    ``wet_only`` restricts it to baleage and silage.
    """

    what: str
    factor: float
    table: ClassTable
    wet_only: bool = False


_DM: Final = "% of dry matter"
_FROM_MEMORY: Final = "Stock nutrition practice, from memory"
#: Mold poisons are limited in feed of 88 % dry matter: from the dry matter to such feed.
_AS_FED: Final = molds.LIMITS_DM_PCT / 100.0

_SOIL: Final = {
    "ash_from_soil": PlainHazard(
        "external_ash_pct",
        1.0,
        ClassTable(
            "ash from soil",
            _DM,
            (soil.TOLD_ABOVE_INTERNAL_PCT,),
            ("usual", "soil"),
            "down",
            soil.ASH_SOURCE,
        ),
    ),
    "ash": PlainHazard(
        "ash",
        1.0,
        ClassTable(
            "ash", _DM, (soil.SOILED_ABOVE_PCT,), ("usual", "soiled"), "down", soil.ASH_SOURCE
        ),
    ),
}
_WET: Final = {
    "baleage_moisture": PlainHazard(
        "moisture_pct",
        1.0,
        ClassTable(
            "moisture of wrapped bales",
            "% as received",
            (
                _from(baleage.DRY_BALEAGE_BELOW_MOISTURE_PCT),
                baleage.WET_BALEAGE_ABOVE_MOISTURE_PCT,
                baleage.SOAKED_BALEAGE_ABOVE_MOISTURE_PCT,
            ),
            ("dry: mold", "sound", "clostridia favored", "soaked"),
            "down",
            baleage.BALEAGE_SOURCE,
        ),
        wet_only=True,
    ),
    "baleage_ph": PlainHazard(
        "ph",
        1.0,
        ClassTable(
            "pH of wrapped bales",
            "pH",
            (
                baleage.PH_SAFE,
                baleage.PH_DOUBTFUL_ABOVE,
                _from(baleage.PH_DANGER_SMALL_GRAIN),
            ),
            ("safe", "watch if moist", "doubtful", "dangerous in small grain"),
            "down",
            baleage.BALEAGE_SOURCE,
        ),
        wet_only=True,
    ),
    "lactic_acid": PlainHazard(
        "lactic",
        1.0,
        ClassTable(
            "lactic acid",
            _DM,
            (fermentation.LEAST_LACTIC_PCT,),
            ("little", "enough"),
            "up",
            fermentation.KUNG_SOURCE,
        ),
        wet_only=True,
    ),
    "butyric_acid": PlainHazard(
        "butyric",
        1.0,
        ClassTable(
            "butyric acid",
            _DM,
            (fermentation.MOST_BUTYRIC_PCT,),
            ("usual", "much: clostridia"),
            "down",
            fermentation.KUNG_SOURCE,
        ),
        wet_only=True,
    ),
}
_PROTEIN: Final = {
    "heat_damage": PlainHazard(
        "bound_share_pct_of_cp",
        1.0,
        ClassTable(
            "protein bound by heat",
            "% of protein",
            (BOUND_TOLD_FROM_PCT_OF_CP, protein.ADJUST_FROM_PCT_OF_CP),
            ("sound", "some heating", "heat damage"),
            "up",
            "Three-step rule of forage labs, from memory; Anderson, University of Nebraska",
        ),
    ),
    "little_protein": PlainHazard(
        "cp",
        1.0,
        ClassTable(
            "protein for the rumen",
            _DM,
            (LEAST_CP_PCT,),
            ("too little", "enough"),
            "up",
            "New Mexico State University CR583",
        ),
    ),
}
_MINERALS: Final = {
    "calcium_to_phosphorus": PlainHazard(
        "ca_to_p_ratio",
        1.0,
        ClassTable(
            "calcium to phosphorus",
            "ratio of masses",
            (minerals.HORSE_LEAST_CA_TO_P, minerals.RUMINANT_MOST_CA_TO_P),
            ("too little calcium", "usual", "much calcium"),
            "up",
            _FROM_MEMORY,
        ),
    ),
    "magnesium": PlainHazard(
        "mg",
        1.0,
        ClassTable(
            "magnesium for cows in milk",
            _DM,
            (minerals.LEAST_MG_LACTATING_PCT,),
            ("little", "enough"),
            "up",
            _FROM_MEMORY,
        ),
    ),
    "molybdenum": PlainHazard(
        "mo",
        1.0,
        ClassTable(
            "molybdenum",
            "ppm of dry matter",
            (trace.MO_HARMFUL_FROM_PPM,),
            ("usual", "harmful"),
            "up",
            "NRC 1996, Nutrient Requirements of Beef Cattle, p. 67",
        ),
    ),
    "copper": PlainHazard(
        "cu",
        1.0,
        ClassTable(
            "copper for beef cattle",
            "ppm of dry matter",
            (trace.CU_NEEDED_PPM,),
            ("below the need", "enough"),
            "up",
            _FROM_MEMORY,
        ),
    ),
    "copper_for_sheep": PlainHazard(
        "cu_with_little_mo_ppm",
        1.0,
        ClassTable(
            "copper for sheep, molybdenum under 1 ppm",
            "ppm of dry matter",
            (trace.SHEEP_CU_ABOVE_PPM,),
            ("usual", "may poison sheep"),
            "down",
            _FROM_MEMORY,
        ),
    ),
}
_MOLD_POISONS: Final = {
    name: PlainHazard(
        name,
        factor * _AS_FED,
        ClassTable(
            words,
            unit,
            tuple(sorted(set(limits.values()))),
            ("below every limit", "above the lowest", "above the middle", "above every limit"),
            "down",
            molds.FDA_SOURCE,
        ),
    )
    for name, words, unit, factor, limits in (
        (
            "aflatoxin",
            "aflatoxin",
            "ppb at 88% dry matter",
            PPB_PER_PPM,
            molds.AFLATOXIN_LIMIT_PPB,
        ),
        (
            "fumonisin",
            "fumonisin in the diet",
            "ppm at 88% dry matter",
            1.0,
            molds.FUMONISIN_DIET_LIMIT_PPM,
        ),
        (
            "don",
            "vomitoxin (DON) in the diet",
            "ppm at 88% dry matter",
            1.0,
            molds.DON_TOTAL_RATION_PPM,
        ),
    )
}
#: Every plain limit by name.
PLAIN_HAZARDS: Final[dict[str, PlainHazard]] = {
    **_SOIL,
    **_WET,
    **_PROTEIN,
    **_MINERALS,
    **_MOLD_POISONS,
}
