"""Bales: their volume and what they weigh.

A round bale is named by width and then diameter: a "4x5" is 4 ft wide and 5 ft across. A few
bales weighed on a scale beat every equation here; a book density stands in until then, and what
is printed of densities is in ``data/bale_densities.csv``. An input outside its range raises
`OutOfRange`.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import Package
from rickyard.hay.common import (
    MOST_WET_DENSITY_KG_M3,
    ROUND_BALE_SIDE_M,
    equation,
    require_between,
    require_loss,
    require_positive,
)
from rickyard.quantities import KG_M3_PER_LB_FT3, Numeric, OutOfRange

# What stands in for a bale that nobody weighed. Round bales: the dry-matter density at which
# the press test gives a little (Hancock) and the least that Kansas State aims for; squares: the
# middle of Shewmaker's range. Baleage is given the dry matter of a round bale: common practice,
# no published source.
ROUND_DM_DENSITY_KG_M3: Final = 10.0 * KG_M3_PER_LB_FT3
SMALL_SQUARE_DENSITY_KG_M3: Final = 9.5 * KG_M3_PER_LB_FT3
LARGE_SQUARE_DENSITY_KG_M3: Final = 15.0 * KG_M3_PER_LB_FT3


@equation(
    diameter_m=(require_between, "round bale diameter", *ROUND_BALE_SIDE_M, "m"),
    width_m=(require_between, "round bale width", *ROUND_BALE_SIDE_M, "m"),
)
def round_volume_m3(diameter_m: Numeric, width_m: Numeric) -> Numeric:
    """Volume of a round bale that still stands round.

    Source: geometry; Banta (2012), Texas A&M AgriLife E-319, for the naming of sizes.

    Parameters
    ----------
    diameter_m, width_m : float or array
        Diameter and width, each 3 to 6.5 ft (0.914 to 1.981 m). [m]

    Returns
    -------
    float or array
        Volume. [m3]

    Examples
    --------
    >>> round(round_volume_m3(1.524, 1.524), 3)
    2.78
    """
    return np.pi / 4.0 * np.square(diameter_m) * width_m


@equation(
    length_m=(require_positive, "bale length", "m"),
    width_m=(require_positive, "bale width", "m"),
    height_m=(require_positive, "bale height", "m"),
)
def square_volume_m3(length_m: Numeric, width_m: Numeric, height_m: Numeric) -> Numeric:
    """Volume of a square bale.

    Parameters
    ----------
    length_m, width_m, height_m : float or array
        The three sides, above zero, in any order. [m]

    Returns
    -------
    float or array
        Volume. [m3]

    Examples
    --------
    >>> round(square_volume_m3(2.4384, 0.9144, 1.2192), 3)
    2.718
    """
    return np.multiply(length_m, width_m) * height_m


@equation(
    volume_m3=(require_positive, "bale volume", "m3"),
    density_as_fed_kg_m3=(require_positive, "bale density", "kg/m3"),
)
def bale_weight_kg(volume_m3: Numeric, density_as_fed_kg_m3: Numeric) -> Numeric:
    """Weight of a bale from its volume and its density as fed.

    Parameters
    ----------
    volume_m3 : float or array
        Volume. [m3]
    density_as_fed_kg_m3 : float or array
        Weight as fed per volume, at most that of a wet bale: 45 lb/ft3 (721). [kg/m3]

    Returns
    -------
    float or array
        Weight as fed. [kg]

    Examples
    --------
    >>> round(bale_weight_kg(2.78, 188.0))
    523
    """
    require_between("bale density", density_as_fed_kg_m3, 0.0, MOST_WET_DENSITY_KG_M3, "kg/m3")
    return np.multiply(volume_m3, density_as_fed_kg_m3)


def book_density_as_fed_kg_m3(package: Package, moisture_pct: float) -> float:
    """Density that stands in for a bale nobody has weighed.

    Round bales 10 lb of dry matter per cubic foot, small squares 9.5 and large squares 15 lb as
    fed per cubic foot. Growers and tables run 10 to 20 % high: weigh a few.

    Source: Hancock table in Univ. Missouri Crop Pest no. 939 (round); Shewmaker, Preventing hay
    fires (squares). Baleage: common practice.

    Parameters
    ----------
    package : Package
        How the hay is put up; loose hay has no bale to weigh and is refused.
    moisture_pct : float
        Moisture as it lies, under 100; only round bales and baleage depend on it. [%]

    Returns
    -------
    float
        Weight as fed per volume. [kg/m3]

    Examples
    --------
    >>> round(book_density_as_fed_kg_m3(Package.ROUND, 15.0), 1)
    188.5
    """
    if package in (Package.ROUND, Package.BALEAGE):
        require_loss("moisture", moisture_pct)
        return ROUND_DM_DENSITY_KG_M3 / (1.0 - moisture_pct / 100.0)
    if package is Package.SMALL_SQUARE:
        return SMALL_SQUARE_DENSITY_KG_M3
    if package is Package.LARGE_SQUARE:
        return LARGE_SQUARE_DENSITY_KG_M3
    raise OutOfRange("loose hay has no bale density; weigh a load instead.")
