"""Bales: their volume and what they weigh.

A round bale is named by width and then diameter: a "4x5" is 4 ft wide and 5 ft across. A few
bales weighed on a scale beat every equation here; `rickyard.hay.bales.density` stands in until
then.
"""

from __future__ import annotations

import numpy as np

from rickyard.hay.common import (
    MOST_WET_DENSITY_KG_M3,
    ROUND_BALE_SIDE_M,
    require_between,
    require_loss,
    require_not_negative,
    require_positive,
)
from rickyard.quantities import Numeric, as_given


def round_volume_m3(diameter_m: Numeric, width_m: Numeric) -> Numeric:
    """Volume of a round bale that still stands round.

    Parameters
    ----------
    diameter_m, width_m : float or array
        Diameter and width, each 3 to 6.5 ft. [m]

    Returns
    -------
    float or array
        Volume. [m3]

    Raises
    ------
    OutOfRange
        If a side is outside 3 to 6.5 ft (0.914 to 1.981 m).

    References
    ----------
    .. [1] Geometry; Banta (2012), Texas A&M AgriLife E-319, for the naming of sizes.

    Examples
    --------
    >>> round(round_volume_m3(1.524, 1.524), 3)
    2.78
    """
    require_between("round bale diameter", diameter_m, *ROUND_BALE_SIDE_M, "m")
    require_between("round bale width", width_m, *ROUND_BALE_SIDE_M, "m")
    volume = np.pi / 4.0 * np.square(diameter_m) * width_m
    return as_given(volume, diameter_m, width_m)


def square_volume_m3(length_m: Numeric, width_m: Numeric, height_m: Numeric) -> Numeric:
    """Volume of a square bale.

    Parameters
    ----------
    length_m, width_m, height_m : float or array
        The three sides, in any order. [m]

    Returns
    -------
    float or array
        Volume. [m3]

    Raises
    ------
    OutOfRange
        If a side is not above zero.

    Examples
    --------
    >>> round(square_volume_m3(2.4384, 0.9144, 1.2192), 3)
    2.718
    """
    for name, side in (("length", length_m), ("width", width_m), ("height", height_m)):
        require_positive(f"bale {name}", side, "m")
    return as_given(np.multiply(length_m, width_m) * height_m, length_m, width_m, height_m)


def bale_weight_kg(volume_m3: Numeric, density_as_fed_kg_m3: Numeric) -> Numeric:
    """Weight of a bale from its volume and its density as fed.

    Parameters
    ----------
    volume_m3 : float or array
        Volume. [m3]
    density_as_fed_kg_m3 : float or array
        Weight as fed per volume. [kg/m3]

    Returns
    -------
    float or array
        Weight as fed. [kg]

    Raises
    ------
    OutOfRange
        If the volume is not above zero, or the density is over what a wet bale can have
        (45 lb/ft3, 721 kg/m3).

    Notes
    -----
    Ask `rickyard.hay.common.limits.density_remark` whether the density suits dry hay.

    Examples
    --------
    >>> round(bale_weight_kg(2.78, 188.0))
    523
    """
    require_positive("bale volume", volume_m3, "m3")
    require_positive("bale density", density_as_fed_kg_m3, "kg/m3")
    require_between("bale density", density_as_fed_kg_m3, 0.0, MOST_WET_DENSITY_KG_M3, "kg/m3")
    weight = np.multiply(volume_m3, density_as_fed_kg_m3)
    return as_given(weight, volume_m3, density_as_fed_kg_m3)


def dry_matter_kg(weight_kg: Numeric, moisture_pct: Numeric) -> Numeric:
    """Dry matter in hay as fed.

    Parameters
    ----------
    weight_kg : float or array
        Weight as fed. [kg]
    moisture_pct : float or array
        Moisture as it lies. [%]

    Returns
    -------
    float or array
        Dry matter. [kg]

    Raises
    ------
    OutOfRange
        If the weight is negative or the moisture is outside 0 to under 100 %.

    Examples
    --------
    >>> dry_matter_kg(500.0, 15.0)
    425.0
    """
    require_not_negative("weight", weight_kg, "kg")
    require_loss("moisture", moisture_pct)
    dry = weight_kg * (1.0 - np.divide(moisture_pct, 100.0))
    return as_given(dry, weight_kg, moisture_pct)


def weight_after_storage_kg(
    weight_kg: Numeric,
    moisture_in_pct: Numeric,
    moisture_out_pct: Numeric,
    dm_loss_pct: Numeric,
) -> Numeric:
    """Weight of a bale after storage has taken water and dry matter.

    Parameters
    ----------
    weight_kg : float or array
        Weight when it went in, as fed. [kg]
    moisture_in_pct, moisture_out_pct : float or array
        Moisture when it went in and when it comes out. [%]
    dm_loss_pct : float or array
        Dry matter lost in between, of what went in. [%]

    Returns
    -------
    float or array
        Weight when it comes out, as fed. [kg]

    Raises
    ------
    OutOfRange
        If the weight is negative, or a moisture or the loss is outside 0 to under 100 %.

    Notes
    -----
    A bale weighed again after storage has its loss in the weight: do not take it off twice.

    Examples
    --------
    >>> round(weight_after_storage_kg(1200.0, 18.0, 12.0, 6.0), 1)
    1051.1
    """
    dry = dry_matter_kg(weight_kg, moisture_in_pct)
    require_loss("moisture", moisture_out_pct)
    require_loss("dry-matter loss", dm_loss_pct)
    kept = dry * (1.0 - np.divide(dm_loss_pct, 100.0))
    weight = kept / (1.0 - np.divide(moisture_out_pct, 100.0))
    return as_given(weight, weight_kg, moisture_in_pct, moisture_out_pct, dm_loss_pct)


def relative_size_pct(volume_m3: Numeric, reference_volume_m3: Numeric) -> Numeric:
    """Size of a bale against another, which is also its share of weight and of value.

    Parameters
    ----------
    volume_m3, reference_volume_m3 : float or array
        The two volumes. [m3]

    Returns
    -------
    float or array
        The first in percent of the second. [%]

    Raises
    ------
    OutOfRange
        If a volume is not above zero.

    Notes
    -----
    Holds for weight and value when both bales have the same density and moisture.

    References
    ----------
    .. [1] Banta (2012), Texas A&M AgriLife E-319, table 1.

    Examples
    --------
    >>> round(relative_size_pct(round_volume_m3(1.2192, 1.2192), round_volume_m3(1.524, 1.524)))
    51
    """
    require_positive("bale volume", volume_m3, "m3")
    require_positive("reference volume", reference_volume_m3, "m3")
    size = 100.0 * np.divide(volume_m3, reference_volume_m3)
    return as_given(size, volume_m3, reference_volume_m3)
