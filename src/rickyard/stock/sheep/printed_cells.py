"""Single cells of newer editions that could be read: calcium by stage, one ewe with twins."""

from __future__ import annotations

from collections.abc import Sequence
from math import isclose
from typing import Final, Literal

import numpy as np

from rickyard.farm import Assumption
from rickyard.quantities import KG_PER_LB, Numeric, OutOfRange, as_given
from rickyard.stock.common import NeedArrays, find_row
from rickyard.types import BoolArray

CALCIUM_EDITION: Final = "NRC 2007 small ruminants"
#: The weight of the animals whose calcium is printed.
PRINTED_KG: Final = 70.0
EWE_EDITION: Final = "not stated (2023 newsletter)"


def calcium_2007_g(species: str, stage: str, weight_kg: float = PRINTED_KG) -> float:
    """Return the printed calcium of a 70 kg adult with twins [g/d].

    ``species``: A meat ewe, or a doe milked in a parlor. ``weight_kg``: body weight, 70. Raises
    ``OutOfRange`` at another weight, or if there is no such cell.

    Source: Merck Veterinary Manual, from NRC (2007), Nutrient Requirements of Small Ruminants
    (seen).

    >>> calcium_2007_g("goat", "early_lactation")
    20.7
    """
    if weight_kg != PRINTED_KG:
        raise OutOfRange("The calcium of 2007 is printed for 70 kg adults with twins only.")
    return float(find_row("calcium_2007", species=species, stage=stage)["ca_g"])


def calcium_2007_scaled_g(species: str, stage: str, weight_kg: Numeric) -> Numeric:
    """Return the printed calcium of 2007 in proportion to body weight [g/d].

    ``species``: A meat ewe, or a doe milked in a parlor. ``stage``: as for ``calcium_2007_g``.

    The proportion is common practice; only 70 kg is printed.

    >>> round(calcium_2007_scaled_g("sheep", "late_gestation", 35.0), 6)
    4.4
    """
    printed = calcium_2007_g(species, stage)
    return as_given(printed * np.asarray(weight_kg) / PRINTED_KG, weight_kg)


def raise_calcium_of_twins(
    told: NeedArrays, species: str, mothers: str, stages: Sequence[tuple[BoolArray, str]]
) -> None:
    """Raise the calcium of mothers of twins to that of 2007, stage by stage, and say so.

    Parameters
    ----------
    told : NeedArrays
        Their needs, which are changed. [g/d]
    species : str
        ``sheep`` or ``goat``.
    mothers : str
        What they are called in the sentence.
    stages : sequence of (array of bool, str)
        On which days they are in which stage of the table.
    """
    for where, stage in stages:
        newer = np.asarray(calcium_2007_scaled_g(species, stage, told.weight_kg))
        calcium = told.values["ca_g"]
        told.values["ca_g"] = np.where(where, np.maximum(calcium, newer), calcium)
    told.assumptions.append(
        Assumption(
            f"{mothers} with twins get at least the calcium of 2007, in proportion to their "
            "weight.",
            f"{CALCIUM_EDITION}, in the Merck Veterinary Manual",
        )
    )


def printed_ewe_kg(
    constituent: Literal["dm", "tdn", "cp"], stage: str, weight_kg: float, lambs: int
) -> float:
    """Return a printed amount of a 150-lb ewe raising twins [kg/d].

    ``weight_kg``: body weight, that of the print: 150 lb, 68.04 kg. Raises ``OutOfRange`` at
    another weight or litter: nothing else is printed.

    The lactation cell (2.9 lb TDN) is an unnamed, probably later stage: NRC 1985 asks 4.0 lb in the
    first weeks with twins. Plan on the table of 1985.

    Source: Weaver, North Carolina State Univ., in Ohio State Univ. Sheep Team newsletter, January
    2023 (seen; edition not stated).

    >>> round(printed_ewe_kg("cp", "late_gestation", 150.0 * KG_PER_LB, 2), 3)
    0.181
    """
    row = find_row("sheep_2023_ewe", stage=stage)
    if not isclose(weight_kg, float(row["bw_lb"]) * KG_PER_LB, rel_tol=1e-6) or lambs != int(
        row["young"]
    ):
        raise OutOfRange("The newsletter prints a ewe of 150 lb raising twins only.")
    return float(row[f"{constituent}_lb"]) * KG_PER_LB
