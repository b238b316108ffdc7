"""Body weights: what the scale shows, what the equations mean, and the way between.

Every equation of need speaks of shrunk weight, the weight after a night without feed and
water. A farm scale shows full weight. The two differ by four percent, and confusing them
shifts maintenance by three.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, above_zero, as_given, within

SHRUNK_PER_FULL: Final = 0.96  # Univ. of Arkansas MP391 (1996-based edition), seen
EMPTY_PER_SHRUNK: Final = 0.891  # growing cattle, NRC 2000; reproduces print
EMPTY_PER_SHRUNK_COW: Final = 0.851  # body-reserve equations of cows only, NRC 2000; reproduces
EMPTY_GAIN_PER_SHRUNK_GAIN: Final = 0.956  # NRC 2000; reproduces print

#: Standard reference weight: breeding animals, and cattle finished at small marbling.
REFERENCE_WEIGHT_KG: Final = 478.0  # NRC 2000; reproduces print

LEAST_SHRUNK_WEIGHT_KG: Final = 50.0  # range of the equations as used here
MOST_SHRUNK_WEIGHT_KG: Final = 1100.0


def shrunk_from_full_kg(full_weight_kg: Numeric) -> Numeric:
    """Return the shrunk weight of an animal from its full weight.

    Source: Univ. of Arkansas, MP391 Beef Cattle Nutrition (1996-based edition).

    Parameters
    ----------
    full_weight_kg : float or array
        Weight as a farm scale shows it. [kg]

    Returns
    -------
    float or array
        Shrunk weight. [kg]

    Examples
    --------
    >>> shrunk_from_full_kg(500.0)
    480.0
    """
    return as_given(SHRUNK_PER_FULL * np.asarray(full_weight_kg), full_weight_kg)


def full_from_shrunk_kg(shrunk_weight_kg: Numeric) -> Numeric:
    """Return the full weight of an animal from its shrunk weight.

    Source: Univ. of Arkansas, MP391 Beef Cattle Nutrition (1996-based edition).

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Weight after a night without feed and water. [kg]

    Returns
    -------
    float or array
        Weight as a farm scale shows it. [kg]

    Examples
    --------
    >>> full_from_shrunk_kg(480.0)
    500.0
    """
    return as_given(np.asarray(shrunk_weight_kg) / SHRUNK_PER_FULL, shrunk_weight_kg)


def empty_weight_cow_kg(shrunk_weight_kg: Numeric) -> Numeric:
    """Return the empty body weight that the reserve equations of cows mean.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Shrunk weight at condition score 5. [kg]

    Returns
    -------
    float or array
        Empty body weight at condition score 5. [kg]

    Examples
    --------
    >>> round(empty_weight_cow_kg(500.0), 1)
    425.5
    """
    return as_given(EMPTY_PER_SHRUNK_COW * np.asarray(shrunk_weight_kg), shrunk_weight_kg)


def size_scaled_weight_kg(
    shrunk_weight_kg: Numeric,
    final_shrunk_weight_kg: Numeric,
    reference_weight_kg: Numeric = REFERENCE_WEIGHT_KG,
) -> Numeric:
    """Return the weight at which the reference animal has the same body composition.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle, 7th rev. ed., Update.

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Shrunk weight now. [kg]
    final_shrunk_weight_kg : float or array
        Shrunk weight, above 0, when mature (breeding stock) or at the target finish (feeders). [kg]
    reference_weight_kg : float or array
        Standard reference weight. [kg]

    Returns
    -------
    float or array
        Size-scaled weight. It may exceed the reference weight. [kg]

    Examples
    --------
    >>> round(size_scaled_weight_kg(300.0, 545.0), 1)
    263.1
    """
    above_zero("The final weight of growing stock must be above zero.", final_shrunk_weight_kg)
    scaled = np.asarray(shrunk_weight_kg) * reference_weight_kg / final_shrunk_weight_kg
    return as_given(scaled, shrunk_weight_kg, final_shrunk_weight_kg, reference_weight_kg)


def metabolic_weight(shrunk_weight_kg: Numeric) -> Numeric:
    """Return shrunk weight to the power 0.75, refusing weights that no equation covers.

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Shrunk weight, 50 to 1100. [kg]

    Returns
    -------
    float or array
        Metabolic weight. [kg^0.75]

    Examples
    --------
    >>> round(metabolic_weight(533.0), 2)
    110.93
    """
    low, high = LEAST_SHRUNK_WEIGHT_KG, MOST_SHRUNK_WEIGHT_KG
    said = (
        f"A shrunk weight must lie between {low:.0f} and {high:.0f} kg (110 to 2,425 lb) for the "
        "equations of need."
    )
    weight = within(shrunk_weight_kg, said, low, high)
    return as_given(weight**0.75, shrunk_weight_kg)
