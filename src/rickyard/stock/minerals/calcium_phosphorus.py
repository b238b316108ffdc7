"""Calcium and phosphorus."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given

# NRC 2000, from memory: per kg shrunk weight, per g net protein gain, per kg milk, per kg calf
# birth weight over the last 90 days of pregnancy, and the share absorbed.
CALCIUM: Final = (0.0154, 0.071, 1.23, 13.7 / 90.0, 0.50)
PHOSPHORUS: Final = (0.0160, 0.039, 0.95, 7.6 / 90.0, 0.68)
FETAL_DAYS: Final = 90.0


def calcium_g(
    shrunk_weight_kg: Numeric,
    *,
    net_protein_gain_g: Numeric = 0.0,
    milk_kg: Numeric = 0.0,
    birth_weight_kg: Numeric = 0.0,
    last_90_days: Numeric = False,
) -> Numeric:
    """Return the calcium to feed.

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Shrunk weight. [kg]
    net_protein_gain_g : float or array
        Protein kept in gain. [g/d]
    milk_kg : float or array
        Milk. [kg/d]
    birth_weight_kg : float or array
        Birth weight of the calf. [kg]
    last_90_days : bool or array
        Whether she is in the last 90 days of pregnancy.

    Returns
    -------
    float or array
        Calcium of the whole diet. [g/d]

    References
    ----------
    .. [1] NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    Examples
    --------
    >>> round(calcium_g(533.0, milk_kg=8.0), 1)
    36.1
    """
    return _total_g(
        CALCIUM, shrunk_weight_kg, net_protein_gain_g, milk_kg, birth_weight_kg, last_90_days
    )


def phosphorus_g(
    shrunk_weight_kg: Numeric,
    *,
    net_protein_gain_g: Numeric = 0.0,
    milk_kg: Numeric = 0.0,
    birth_weight_kg: Numeric = 0.0,
    last_90_days: Numeric = False,
) -> Numeric:
    """Return the phosphorus to feed.

    Parameters
    ----------
    shrunk_weight_kg : float or array
        Shrunk weight. [kg]
    net_protein_gain_g : float or array
        Protein kept in gain. [g/d]
    milk_kg : float or array
        Milk. [kg/d]
    birth_weight_kg : float or array
        Birth weight of the calf. [kg]
    last_90_days : bool or array
        Whether she is in the last 90 days of pregnancy.

    Returns
    -------
    float or array
        Phosphorus of the whole diet. [g/d]

    References
    ----------
    .. [1] NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

    Examples
    --------
    >>> round(phosphorus_g(533.0, milk_kg=8.0), 1)
    23.7
    """
    return _total_g(
        PHOSPHORUS, shrunk_weight_kg, net_protein_gain_g, milk_kg, birth_weight_kg, last_90_days
    )


def _total_g(
    coefficients: tuple[float, ...],
    shrunk_weight_kg: Numeric,
    net_protein_gain_g: Numeric,
    milk_kg: Numeric,
    birth_weight_kg: Numeric,
    last_90_days: Numeric,
) -> Numeric:
    per_weight, per_protein, per_milk, per_birth_weight, absorbed = coefficients
    net = (
        per_weight * np.asarray(shrunk_weight_kg)
        + per_protein * np.asarray(net_protein_gain_g)
        + per_milk * np.asarray(milk_kg)
        + np.where(last_90_days, per_birth_weight * np.asarray(birth_weight_kg), 0.0)
    )
    return as_given(
        net / absorbed, shrunk_weight_kg, net_protein_gain_g, milk_kg, birth_weight_kg, last_90_days
    )
