"""Nitrate of a whole diet with its water, and how far a hay must be diluted."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rickyard.forage.values import (
    DIET_NO3N_CEILING_OTHER_PPM,
    DIET_NO3N_CEILING_PREGNANT_PPM,
)
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


def most_share_by_blending(
    no3n_ppm: Numeric, other_no3n_ppm: Numeric, pregnant: bool, water_no3n_ppm: Numeric = 0.0
) -> Numeric:
    """Return how much of a ration a hay may be so that the whole stays without restriction.

    Parameters
    ----------
    no3n_ppm : float or array
        Nitrate-nitrogen of the hay. [ppm DM]
    other_no3n_ppm : float or array
        Nitrate-nitrogen of the feed it is mixed with. [ppm DM]
    pregnant : bool
        Whether the stock is or may be pregnant.
    water_no3n_ppm : float or array
        What the water adds, as in ``diet_no3n_ppm``. [ppm DM]

    Returns
    -------
    float or array
        Largest share of the dry matter, 0 to 1. [-]

    Notes
    -----
    The whole diet is held to the class without restriction of the Clemson table: 1,000 ppm for
    pregnant stock, 1,500 for other. The share of a hay that its own class allows
    (``nitrate_share_limit``) holds besides. Only even mixing protects: stock that can choose
    eats one of the two first.

    Examples
    --------
    >>> round(most_share_by_blending(2400.0, 200.0, pregnant=True), 2)
    0.36
    """
    ceiling = DIET_NO3N_CEILING_PREGNANT_PPM if pregnant else DIET_NO3N_CEILING_OTHER_PPM
    hay, other = np.asarray(no3n_ppm, dtype=np.float64), np.asarray(other_no3n_ppm)
    room = ceiling - np.asarray(water_no3n_ppm) - other
    richer = np.where(hay > other, hay - other, np.nan)
    share = np.where(hay > other, room / richer, np.where(room >= 0.0, 1.0, 0.0))
    return as_given(
        np.minimum(1.0, np.maximum(0.0, share)), no3n_ppm, other_no3n_ppm, water_no3n_ppm
    )
