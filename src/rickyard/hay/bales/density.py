"""Density of bales: what is printed, and what stands in for a bale nobody has weighed."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np

from rickyard.farm import Package
from rickyard.hay.common import require_loss, require_positive
from rickyard.quantities import KG_M3_PER_LB_FT3, Numeric, OutOfRange, as_given


@dataclass(frozen=True, slots=True)
class PublishedDensity:
    """A published range of bale density in kg/m3; the two ends may be equal.

    ``basis`` is ``dm``, ``as_fed`` or ``not stated``.
    """

    package: Package
    what: str
    low_kg_m3: float
    high_kg_m3: float
    basis: str
    source: str


@cache
def published_densities() -> tuple[PublishedDensity, ...]:
    """Return the densities in print, by package.

    Examples
    --------
    >>> published_densities()[0].source
    'Hancock table in Univ. Missouri Crop Pest no. 939; Hay & Forage Grower article 4182'
    """
    text = files("rickyard.hay").joinpath("data", "bale_densities.csv").read_text("utf-8")
    return tuple(
        PublishedDensity(
            Package(row["package"]),
            row["what"],
            _kg_m3(row, "low"),
            _kg_m3(row, "high"),
            row["basis"],
            row["source"],
        )
        for row in csv.DictReader(text.splitlines())
    )


def _kg_m3(row: dict[str, str], end: str) -> float:
    return float(row[f"{end}_kg_m3"] or float(row[f"{end}_lb_ft3"]) * KG_M3_PER_LB_FT3)


# What stands in for a bale that nobody weighed. Round bales: the dry-matter density at which
# the press test gives a little (Hancock) and the least that Kansas State aims for; squares: the
# middle of Shewmaker's range. Baleage is given the dry matter of a round bale: common practice,
# no published source.
ROUND_DM_DENSITY_KG_M3: Final = 10.0 * KG_M3_PER_LB_FT3
SMALL_SQUARE_DENSITY_KG_M3: Final = 9.5 * KG_M3_PER_LB_FT3
LARGE_SQUARE_DENSITY_KG_M3: Final = 15.0 * KG_M3_PER_LB_FT3


def as_fed_density_kg_m3(dm_density_kg_m3: Numeric, moisture_pct: Numeric) -> Numeric:
    """Density as fed of hay whose dry-matter density is known.

    Parameters
    ----------
    dm_density_kg_m3 : float or array
        Dry matter per volume. [kg/m3]
    moisture_pct : float or array
        Moisture as it lies. [%]

    Returns
    -------
    float or array
        Weight as fed per volume. [kg/m3]

    Raises
    ------
    OutOfRange
        If the density is not above zero or the moisture is outside 0 to under 100 %.

    Examples
    --------
    >>> round(as_fed_density_kg_m3(160.0, 15.0), 1)
    188.2
    """
    require_positive("dry-matter density", dm_density_kg_m3, "kg/m3")
    require_loss("moisture", moisture_pct)
    density = dm_density_kg_m3 / (1.0 - np.divide(moisture_pct, 100.0))
    return as_given(density, dm_density_kg_m3, moisture_pct)


def book_density_as_fed_kg_m3(package: Package, moisture_pct: float) -> float:
    """Density that stands in for a bale nobody has weighed.

    Parameters
    ----------
    package : Package
        How the hay is put up.
    moisture_pct : float
        Moisture as it lies; only round bales and baleage depend on it. [%]

    Returns
    -------
    float
        Weight as fed per volume. [kg/m3]

    Raises
    ------
    OutOfRange
        If the package is loose hay, which has no bale to weigh.

    Notes
    -----
    Round bales 10 lb of dry matter per cubic foot, small squares 9.5 and large squares 15 lb as
    fed per cubic foot. Growers and tables run 10 to 20 % high: weigh a few.

    References
    ----------
    .. [1] Hancock table in Univ. Missouri Crop Pest no. 939 (round).
    .. [2] Shewmaker, Preventing hay fires (squares). Baleage: common practice.

    Examples
    --------
    >>> round(book_density_as_fed_kg_m3(Package.ROUND, 15.0), 1)
    188.5
    """
    if package in (Package.ROUND, Package.BALEAGE):
        return float(as_fed_density_kg_m3(ROUND_DM_DENSITY_KG_M3, moisture_pct))
    if package is Package.SMALL_SQUARE:
        return SMALL_SQUARE_DENSITY_KG_M3
    if package is Package.LARGE_SQUARE:
        return LARGE_SQUARE_DENSITY_KG_M3
    raise OutOfRange("loose hay has no bale density; weigh a load instead.")
