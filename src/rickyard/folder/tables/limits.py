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

from rickyard.evidence import COMMON_PRACTICE
from rickyard.quantities import KG_M3_PER_LB_FT3, KG_PER_LB, M_PER_FT

BY_DEFINITION: Final = "by definition"


@dataclass(frozen=True, slots=True)
class ColumnLimit:
    """The least and most a field may hold, and how to speak of what lies outside.

    ``usual`` is the span in which a slip of the decimal point is guessed back.
    ``too_low`` and ``too_high`` end the sentence "... is under 5 %, ". ``advice`` follows the
    guess, ``advice_high`` above the most if it differs. ``fraction_trap`` refuses a value
    between 0 and 1: a fraction where a percentage is expected.
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


# Cattle. 50 to 1100 kg is the span in which the equations for energy hold.
_ONE_HEAD: Final = "Otherwise write the mean weight of one head."
HEAD_WEIGHT: Final = ColumnLimit(
    50.0,
    1100.0,
    "NRC 2000, range of the maintenance equation",
    usual=(120.0, 1000.0),
    too_low="too light for cattle on hay",
    too_high="too heavy for cattle",
    advice=_ONE_HEAD,
)
TARGET_WEIGHT: Final = ColumnLimit(
    5.0,
    1100.0,
    COMMON_PRACTICE,
    usual=(10.0, 1000.0),
    too_high="too heavy for cattle",
    advice=_ONE_HEAD,
)
COW_WEIGHT: Final = ColumnLimit(
    200.0,
    1100.0,
    COMMON_PRACTICE,
    usual=(350.0, 900.0),
    too_low="too light for a cow",
    too_high="too heavy for a cow",
    advice=_ONE_HEAD,
)
HEIFER_IN_CALF_WEIGHT: Final = ColumnLimit(
    180.0,
    900.0,
    COMMON_PRACTICE,
    usual=(250.0, 650.0),
    too_low="too light for a heifer in calf",
    too_high="too heavy for a heifer in calf",
    advice=_ONE_HEAD,
)
BULL_WEIGHT: Final = ColumnLimit(
    120.0,
    1200.0,
    COMMON_PRACTICE,
    usual=(250.0, 1100.0),
    too_low="too light for a bull",
    too_high="too heavy for a bull",
    advice=_ONE_HEAD,
)
YOUNG: Final = ColumnLimit(
    1.0,
    3.0,
    COMMON_PRACTICE,
    advice="Write the mean of what mothers bear and raise; make barren ones a group of their own.",
)


def _of_a(kind: str, least: float, most: float, usual: tuple[float, float]) -> ColumnLimit:
    return ColumnLimit(
        least,
        most,
        COMMON_PRACTICE,
        usual=usual,
        too_low=f"too light for a {kind}",
        too_high=f"too heavy for a {kind}",
        advice=_ONE_HEAD,
    )


# Sheep, goats, horses, dairy stock, llamas. Common practice, within the tables of their needs.
EWE_WEIGHT: Final = _of_a("ewe", 40.0, 100.0, (45.0, 95.0))
EWE_LAMB_WEIGHT: Final = _of_a("ewe lamb", 20.0, 80.0, (25.0, 70.0))
RAM_WEIGHT: Final = _of_a("ram", 40.0, 160.0, (45.0, 140.0))
FEEDER_LAMB_WEIGHT: Final = _of_a("feeder lamb", 8.0, 70.0, (10.0, 60.0))
DOE_WEIGHT: Final = _of_a("doe", 15.0, 130.0, (20.0, 100.0))
KID_WEIGHT: Final = _of_a("kid", 5.0, 100.0, (8.0, 60.0))
BUCK_WEIGHT: Final = _of_a("buck", 20.0, 160.0, (25.0, 120.0))
HORSE_WEIGHT: Final = _of_a("horse", 50.0, 1200.0, (100.0, 900.0))
DONKEY_WEIGHT: Final = _of_a("donkey", 50.0, 500.0, (80.0, 400.0))
MULE_WEIGHT: Final = _of_a("mule", 80.0, 800.0, (120.0, 600.0))
DAIRY_HEIFER_WEIGHT: Final = _of_a("dairy heifer", 60.0, 750.0, (80.0, 650.0))
DRY_DAIRY_COW_WEIGHT: Final = _of_a("dry dairy cow", 250.0, 1000.0, (350.0, 850.0))
LLAMA_WEIGHT: Final = _of_a("llama", 30.0, 250.0, (50.0, 200.0))
ALPACA_WEIGHT: Final = _of_a("alpaca", 15.0, 120.0, (25.0, 90.0))

GROWN_WEIGHT: Final = ColumnLimit(
    200.0,
    1200.0,
    COMMON_PRACTICE,
    usual=(350.0, 1000.0),
    too_low="too light for grown cattle",
    too_high="too heavy for cattle",
    advice="Write the weight of one head, full grown or finished.",
)

LOSS_QUESTION_PCT: Final = 60.0
# The season.
LONGEST_SEASON_DAYS: Final = 400
