"""Horses by the edition of 1989, to explain old sheets; plan with that of 2007."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given, within

EDITION: Final = "NRC 1989 horses"

# NRC 1989, Nutrient Requirements of Horses, 5th rev. ed.; seen as quoted by Fletcher and Evans.
DE_BASE_MCAL: Final = 1.4
DE_PER_KG: Final = 0.03
WORK_FACTOR: Final = {"maintenance": 1.0, "light": 1.25, "moderate": 1.50, "intense": 2.00}
CP_G_PER_MCAL: Final = 40.0
CA_G_PER_MCAL: Final = 1.22
WEIGHT_KG: Final = (200.0, 600.0)


def horse_1989_de_mcal(weight_kg: Numeric, work: str = "maintenance") -> Numeric:
    """Return the digestible energy of an adult horse by the edition of 1989 [Mcal/d].

    ``weight_kg``: body weight, 200 to 600. Raises ``OutOfRange`` if a weight lies outside the range
    or there is no such work.

    >>> round(horse_1989_de_mcal(500.0, "light"), 2)
    20.5
    """
    said = "The equation of 1989 is for horses of 200 to 600 kg."
    weight = within(weight_kg, said, *WEIGHT_KG)
    if work not in WORK_FACTOR:
        raise OutOfRange(f"The edition of 1989 knows {', '.join(WORK_FACTOR)}.")
    return as_given((DE_BASE_MCAL + DE_PER_KG * weight) * WORK_FACTOR[work], weight_kg)


def horse_1989_cp_g(de_mcal: Numeric) -> Numeric:
    """Return the crude protein that goes with digestible energy in the edition of 1989.

    >>> round(horse_1989_cp_g(20.5))
    820
    """
    return as_given(CP_G_PER_MCAL * np.asarray(de_mcal), de_mcal)


def horse_1989_ca_g(de_mcal: Numeric) -> Numeric:
    """Return the calcium that goes with digestible energy in the edition of 1989.

    >>> round(horse_1989_ca_g(20.5))
    25
    """
    return as_given(CA_G_PER_MCAL * np.asarray(de_mcal), de_mcal)
