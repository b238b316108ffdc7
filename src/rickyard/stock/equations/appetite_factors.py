"""What weather, mud, breed, fat and growth promotants make of appetite."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given, not_negative

# NRC 2000 Table 10-4, from memory, unless another source is named.
TEMPERATURE_EDGES_C: Final = (-15.0, -5.0, 5.0, 15.0, 25.0, 35.0)
TEMPERATURE_FACTORS: Final = (1.16, 1.07, 1.05, 1.03, 1.00, 0.90, 0.65)
HOT_WITH_COOL_NIGHTS: Final = 0.90

# Straight lines between the printed classes are common practice, to avoid steps. Ohio State
# measured 5 to 15 % less in 4 to 8 in (10 to 20 cm).
MUD_CM: Final = (0.0, 10.0, 20.0, 30.0, 60.0)
MUD_FACTORS: Final = (1.00, 0.85, 0.85, 0.70, 0.70)

BREED_FACTORS: Final = MappingProxyType({"holstein": 1.08, "holstein_cross": 1.04, "other": 1.00})
FAT_SCALED_KG: Final = (350.0, 400.0, 450.0, 500.0, 550.0)
FAT_FACTORS: Final = (1.00, 0.97, 0.90, 0.82, 0.73)


def temperature_factor(temperature_c: Numeric, *, cool_nights: bool = True) -> Numeric:
    """Return how the temperature of the air changes appetite.

    Classes with steps, as printed.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, Table 10-4; from memory.

    Parameters
    ----------
    temperature_c : float or array
        Mean air temperature. [degC]
    cool_nights : bool
        Whether nights cool down when days are above 35 °C.

    Returns
    -------
    float or array
        Factor on appetite; 1 from 15 to 25 °C. [-]

    Examples
    --------
    >>> temperature_factor(-20.0), temperature_factor(20.0), temperature_factor(36.0)
    (1.16, 1.0, 0.9)
    """
    air = np.asarray(temperature_c, dtype=np.float64)
    values = np.array(TEMPERATURE_FACTORS)
    if cool_nights:
        values[-1] = HOT_WITH_COOL_NIGHTS
    # NaN sorts behind the last edge: it must not be taken for great heat.
    found = np.append(values, np.nan)
    place = np.where(np.isnan(air), len(values), np.searchsorted(TEMPERATURE_EDGES_C, air))
    return as_given(found[place], temperature_c)


def mud_factor(depth_cm: Numeric) -> Numeric:
    """Return how mud under foot changes appetite.

    Held at the value of the deepest printed mud beyond it.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, Table 10-4; from memory.

    Parameters
    ----------
    depth_cm : float or array
        Depth of the mud, 0 or more. [cm]

    Returns
    -------
    float or array
        Factor on appetite. [-]

    Examples
    --------
    >>> mud_factor(0.0), mud_factor(15.0), mud_factor(45.0)
    (1.0, 0.85, 0.7)
    """
    depth = np.asarray(depth_cm, dtype=np.float64)
    not_negative("Mud cannot be less deep than none.", depth)
    return as_given(np.interp(depth, MUD_CM, MUD_FACTORS), depth_cm)


def breed_factor(breed: str) -> float:
    """Return the factor [-] of a breed of ``BREED_FACTORS``, crossed with beef, on appetite.

    Raises ``OutOfRange`` if the breed has no row.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, Table 10-4; from memory.

    >>> breed_factor("holstein")
    1.08
    """
    if breed not in BREED_FACTORS:
        raise OutOfRange(f'"{breed}" has no factor of appetite; use {", ".join(BREED_FACTORS)}.')
    return BREED_FACTORS[breed]


def fat_factor(scaled_weight_kg: Numeric) -> Numeric:
    """Return how the fat of feeders changes their appetite.

    Factor on appetite; 1 up to 350 kg, held at 550 kg. For feeders only.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, Table 10-4; from memory.

    >>> fat_factor(300.0), fat_factor(450.0)
    (1.0, 0.9)
    """
    return as_given(np.interp(scaled_weight_kg, FAT_SCALED_KG, FAT_FACTORS), scaled_weight_kg)
