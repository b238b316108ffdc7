"""The values that a cell may hold, each with its source: ``limits.csv``, a constant a row.

Limits are in the unit of the field they guard; the unit of a row, where it has one, is that of
its numbers. They catch typing, not poor hay or thin
cattle: outside them a value is a slip of the pen, a swapped column or a wrong unit.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from rickyard.animals import CLASSES
from rickyard.evidence import COMMON_PRACTICE
from rickyard.kinds import AnimalClass
from rickyard.quantities import KG_M3_PER_LB_FT3, KG_PER_LB, M_PER_FT


@dataclass(frozen=True, slots=True)
class ColumnLimit:
    """The least and most a field may hold, and how to speak of what lies outside.

    ``usual`` is the span in which a slip of the decimal point is guessed back.
    ``too_low`` and ``too_high`` end the sentence "... is under 5%, ". ``advice`` follows the
    guess, ``advice_high`` above the most if it differs. ``fraction_trap`` refuses a value
    between 0 and 1: a fraction where a percentage is expected. What is not nothing and less than
    ``least_of_some`` is refused as a percentage where parts per million are expected.
    """

    least: float
    most: float
    source: str
    usual: tuple[float, float] | None = None
    too_low: str = ""
    too_high: str = ""
    advice: str = ""
    advice_high: str = ""
    fraction_trap: bool = False
    least_of_some: float = 0.0


#: Laboratories find no less nitrate than this; hay with as many percent of it kills. Common
#: practice, no published source. [ppm]
SOME_NITRATE_PPM: Final = 3.0

_FACTORS: Final = {"": 1.0, "lb": KG_PER_LB, "ft": M_PER_FT, "lb/ft3": KG_M3_PER_LB_FT3}


@cache
def _limits() -> dict[str, ColumnLimit]:
    """Read the limits of the package by name."""
    text = files("rickyard.folder").joinpath("data", "limits.csv").read_text("utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        factor = _FACTORS[row["unit"]]
        usual = row["usual_least"], row["usual_most"]
        found[row["name"]] = ColumnLimit(
            float(row["least"]) * factor,
            float(row["most"]) * factor,
            row["source"],
            (float(usual[0]) * factor, float(usual[1]) * factor) if all(usual) else None,
            row["too_low"],
            row["too_high"],
            row["advice"],
            row["advice_high"],
            row["fraction_trap"] == "yes",
            SOME_NITRATE_PPM if row["name"] == "NITRATE_PPM" else 0.0,
        )
    return found


def __getattr__(name: str) -> ColumnLimit:
    """Return the limit of that name from the table."""
    try:
        return _limits()[name]
    except KeyError:
        raise AttributeError(f"{name} is no row of limits.csv") from None


# Bales. Round bales of 3 to 6.5 ft and densities of 6 to 20 lb/ft3 (baleage to 45) are the
# limits in common use; the weights follow from them and from the smallest and largest bales
# of the published size tables.
DENSITY_LEAST_KG_M3: Final = 6.0 * KG_M3_PER_LB_FT3
DENSITY_USUAL_MOST_KG_M3: Final = 20.0 * KG_M3_PER_LB_FT3
DENSITY_DRY_MOST_KG_M3: Final = 25.0 * KG_M3_PER_LB_FT3
DENSITY_WET_MOST_KG_M3: Final = 45.0 * KG_M3_PER_LB_FT3

DRY_HAY_LEAST_DM_PCT: Final = 60.0
DRY_HAY_USUAL_LEAST_DM_PCT: Final = 75.0
WET_LEAST_DM_PCT: Final = 30.0


def weight_limit(animal_class: AnimalClass) -> ColumnLimit:
    """Return what one head of a class can weigh."""
    facts, cattle = CLASSES[animal_class], _limits()["HEAD_WEIGHT"]
    if facts.weight_kg == (cattle.least, cattle.most):
        return cattle
    return ColumnLimit(
        *facts.weight_kg,
        COMMON_PRACTICE,
        usual=facts.usual_kg,
        too_low=f"too light for a {facts.word}",
        too_high=f"too heavy for a {facts.word}",
        advice=cattle.advice,
    )


LOSS_QUESTION_PCT: Final = 60.0
# The season.
LONGEST_SEASON_DAYS: Final = 400
