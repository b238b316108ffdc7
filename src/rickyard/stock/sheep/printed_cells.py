"""Single cells of newer editions that could be read: calcium by stage, one ewe with twins."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import numpy as np

from rickyard.farm import Assumption
from rickyard.quantities import KG_PER_LB, Numeric, OutOfRange, as_given
from rickyard.stock.common import BoolArray, NeedArrays, find_row

CALCIUM_EDITION: Final = "NRC 2007 small ruminants"
#: The weight of the animals whose calcium is printed.
PRINTED_KG: Final = 70.0
EWE_EDITION: Final = "not stated (2023 newsletter)"


def calcium_2007_g(species: str, stage: str, weight_kg: float = PRINTED_KG) -> float:
    """Return the printed calcium of a 70 kg adult with twins.

    Parameters
    ----------
    species : {"sheep", "goat"}
        A meat ewe, or a doe milked in a parlor.
    stage : str
        ``early_gestation``, ``late_gestation``, ``early_lactation`` or ``mid_lactation``.
    weight_kg : float
        Body weight, 70. [kg]

    Returns
    -------
    float
        Calcium. [g/d]

    Raises
    ------
    OutOfRange
        At another weight, or if there is no such cell.

    References
    ----------
    .. [1] Merck Veterinary Manual, from NRC (2007), Nutrient Requirements of Small Ruminants
       (seen).

    Examples
    --------
    >>> calcium_2007_g("goat", "early_lactation")
    20.7
    """
    if weight_kg != PRINTED_KG:
        raise OutOfRange("The calcium of 2007 is printed for 70 kg adults with twins only.")
    return float(find_row("calcium_2007", species=species, stage=stage)["ca_g"])


def calcium_2007_scaled_g(species: str, stage: str, weight_kg: Numeric) -> Numeric:
    """Return the printed calcium of 2007 in proportion to body weight.

    Parameters
    ----------
    species : {"sheep", "goat"}
        A meat ewe, or a doe milked in a parlor.
    stage : str
        As for ``calcium_2007_g``.
    weight_kg : float or array
        Body weight. [kg]

    Returns
    -------
    float or array
        Calcium. [g/d]

    Notes
    -----
    The proportion is common practice; only 70 kg is printed.

    Examples
    --------
    >>> round(calcium_2007_scaled_g("sheep", "late_gestation", 35.0), 6)
    4.4
    """
    printed = calcium_2007_g(species, stage)
    return as_given(printed * np.asarray(weight_kg) / PRINTED_KG, weight_kg)


def raise_calcium_of_twins(
    told: NeedArrays, species: str, mothers: str, stages: Sequence[tuple[BoolArray, str]]
) -> None:
    """Raise the calcium of mothers of twins to that of 2007, stage by stage, and say so."""
    for where, stage in stages:
        newer = np.asarray(calcium_2007_scaled_g(species, stage, told.weight_kg))
        told.ca_g = np.where(where, np.maximum(told.ca_g, newer), told.ca_g)
    told.assumptions.append(
        Assumption(
            f"{mothers} with twins get at least the calcium of 2007, in proportion to their "
            "weight.",
            f"{CALCIUM_EDITION}, in the Merck Veterinary Manual",
        )
    )


def printed_ewe_kg(
    constituent: Literal["dm", "tdn", "cp"], stage: str, weight_lb: float, lambs: int
) -> float:
    """Return a printed amount of a 150-lb ewe raising twins.

    Parameters
    ----------
    constituent : {"dm", "tdn", "cp"}
        Which.
    stage : str
        ``maintenance``, ``late_gestation`` or ``lactation``.
    weight_lb : float
        Body weight, 150. [lb]
    lambs : int
        Lambs, two.

    Returns
    -------
    float
        Amount. [kg/d]

    Raises
    ------
    OutOfRange
        At another weight or litter: nothing else is printed.

    Notes
    -----
    The lactation cell (2.9 lb TDN) is an unnamed, probably later stage: NRC 1985 asks 4.0 lb
    in the first weeks with twins. Plan on the table of 1985.

    References
    ----------
    .. [1] Weaver, North Carolina State Univ., in Ohio State Univ. Sheep Team newsletter,
       January 2023 (seen; edition not stated).

    Examples
    --------
    >>> round(printed_ewe_kg("cp", "late_gestation", 150.0, 2), 3)
    0.181
    """
    row = find_row("sheep_2023_ewe", stage=stage)
    if weight_lb != float(row["bw_lb"]) or lambs != int(row["young"]):
        raise OutOfRange("The newsletter prints a ewe of 150 lb raising twins only.")
    return float(row[f"{constituent}_lb"]) * KG_PER_LB


#: Vitamins of sheep and goats in NRC 2007, per kg of weight: retinol equivalents of A and IU of
#: E; from memory.
VITAMIN_A_RE_PER_KG: Final = {
    "maintenance": 31.4,
    "late_gestation": 45.5,
    "lactation": 53.5,
    "growth": 100.0,
}
VITAMIN_E_IU_PER_KG: Final = {
    "maintenance": 5.3,
    "late_gestation": 5.6,
    "lactation": 5.6,
    "growth": 10.0,
}


def vitamins_2007(stage: str, weight_kg: Numeric) -> tuple[Numeric, Numeric]:
    """Return vitamins A and E of sheep and goats by the edition of 2007.

    Parameters
    ----------
    stage : str
        ``maintenance``, ``late_gestation``, ``lactation`` or ``growth``.
    weight_kg : float or array
        Body weight. [kg]

    Returns
    -------
    tuple of float or array
        Vitamin A in retinol equivalents, not international units, and vitamin E. [RE/d, IU/d]

    Raises
    ------
    OutOfRange
        If there is no such stage.

    References
    ----------
    .. [1] NRC (2007), Nutrient Requirements of Small Ruminants; from memory.

    Examples
    --------
    >>> [round(one) for one in vitamins_2007("maintenance", 70.0)]
    [2198, 371]
    """
    if stage not in VITAMIN_A_RE_PER_KG:
        raise OutOfRange(f"Stages are {', '.join(VITAMIN_A_RE_PER_KG)}, not {stage}.")
    weight = np.asarray(weight_kg, dtype=np.float64)
    return (
        as_given(VITAMIN_A_RE_PER_KG[stage] * weight, weight_kg),
        as_given(VITAMIN_E_IU_PER_KG[stage] * weight, weight_kg),
    )
