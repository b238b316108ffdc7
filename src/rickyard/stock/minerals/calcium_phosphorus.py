"""Calcium and phosphorus of beef cattle."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.quantities import Numeric, as_given

# NRC 2000, from memory: per kg shrunk weight, per g net protein gain, per kg milk, per kg calf
# birth weight over the last 90 days of pregnancy, and the share absorbed.
CALCIUM: Final = (0.0154, 0.071, 1.23, 13.7 / 90.0, 0.50)
PHOSPHORUS: Final = (0.0160, 0.039, 0.95, 7.6 / 90.0, 0.68)
FETAL_DAYS: Final = 90.0


def calcium_phosphorus_g(
    shrunk_weight_kg: Numeric,
    *,
    net_protein_gain_g: Numeric = 0.0,
    milk_kg: Numeric = 0.0,
    birth_weight_kg: Numeric = 0.0,
    last_90_days: Numeric = False,
) -> tuple[Numeric, Numeric]:
    """Return the calcium and the phosphorus to feed.

    Source: NRC (2000), Nutrient Requirements of Beef Cattle; from memory.

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
    tuple of float or array
        Calcium and phosphorus of the whole diet. [g/d]

    Examples
    --------
    >>> [round(one, 1) for one in calcium_phosphorus_g(533.0, milk_kg=8.0)]
    [36.1, 23.7]
    """
    given = (shrunk_weight_kg, net_protein_gain_g, milk_kg, birth_weight_kg, last_90_days)
    weight, protein, milk, calf, late = (np.asarray(one) for one in given)

    def fed(coefficients: tuple[float, ...]) -> Numeric:
        per_weight, per_protein, per_milk, per_calf, absorbed = coefficients
        net = per_weight * weight + per_protein * protein + per_milk * milk
        net = net + np.where(late, per_calf * calf, 0.0)
        return as_given(net / absorbed, *given)

    return fed(CALCIUM), fed(PHOSPHORUS)
