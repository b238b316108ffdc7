"""Nitrate of a whole diet with its water, and how far a hay must be diluted."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rickyard.quantities import Numeric, OutOfRange, as_given


def diet_no3n_ppm(
    shares: Sequence[Numeric],
    no3n_ppm: Sequence[Numeric],
    water_l_per_day: Numeric = 0.0,
    water_no3n_mg_per_l: Numeric = 0.0,
    intake_kg_per_day: Numeric = 1.0,
) -> Numeric:
    """Return the nitrate-nitrogen of all that is eaten and drunk.

    Parameters
    ----------
    shares : sequence of float or array
        Share of each feed in the dry matter. [fraction]
    no3n_ppm : sequence of float or array
        Nitrate-nitrogen of each feed. [ppm DM]
    water_l_per_day, water_no3n_mg_per_l : float or array
        Water drunk and its nitrate-nitrogen. [L/day; mg/L]
    intake_kg_per_day : float or array
        Dry matter eaten. [kg/day]

    Returns
    -------
    float or array
        Nitrate-nitrogen, to be held against the tables of forage. [ppm DM]

    Raises
    ------
    OutOfRange
        If intake is not positive.

    Examples
    --------
    >>> round(diet_no3n_ppm([0.6, 0.4], [2400.0, 200.0], 45.0, 20.0, 11.0))
    1602
    """
    if np.any(np.asarray(intake_kg_per_day) <= 0.0):
        raise OutOfRange("Dry matter eaten must be above 0.")
    feed = sum(
        np.asarray(share) * np.asarray(one) for share, one in zip(shares, no3n_ppm, strict=True)
    )
    water = np.asarray(water_l_per_day) * water_no3n_mg_per_l / intake_kg_per_day
    return as_given(feed + water, *shares, *no3n_ppm, water, intake_kg_per_day)
